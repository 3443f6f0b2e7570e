import { createHash } from 'node:crypto'
import { isRefusal, type Refusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import {
  type AgreementStudy,
  compareInstruments,
  type GivenCall,
  type GivenPair,
  type InstrumentStudy,
  proveAgreement
} from './index.ts'
import reference from './reference/agreement.json' with { type: 'json' }

/** Oracles: R 4.2.2 and the published peak flows (reference/agreement.json). */

const by = { hash: (text: string): string => createHash('sha256').update(text).digest('hex'), program: 'test 1' }

const sound = <T>(value: T): Exclude<T, { refused: true }> => {
  if (isRefusal(value)) throw new Error(`${value.code}: ${value.found}`)
  return value as Exclude<T, { refused: true }>
}

const code = (value: unknown): string => (isRefusal(value) ? value.code : 'answered')

const near = (got: number | undefined, expected: number, at: string): void =>
  expect(Math.abs((got ?? Number.NaN) / expected - 1), `${at}: ${got} for ${expected}`).toBeLessThanOrEqual(
    reference.tolerance
  )

const whole = (result: unknown): Refusal => {
  if (!isRefusal(result)) throw new Error('answered')
  for (const part of [result.found, result.needed, result.remedy]) expect(part.length).toBeGreaterThan(3)
  return result
}

describe('calls of several inspectors', () => {
  const study: AgreementStudy = {
    ...{ kind: 'agreement', version: 1, name: 'study', conditions: 'invented' },
    ...{ categories: ['0', '1'], flawed: ['1'], confidence: 0.95 }
  }
  const { calls } = reference
  const rows: GivenCall[] = (['A', 'B', 'C'] as const).flatMap((inspector) =>
    calls[inspector].map((call, site) => ({
      ...{ row: `${inspector}${site}`, site: `S${site}`, inspector, call, truth: calls.truth[site] }
    }))
  )
  const prove = (given: readonly GivenCall[] = rows) => sound(proveAgreement(study, given, by))

  it('two by two and all together', () => {
    const { pairs, all, shares } = prove()
    for (const [i, want] of [reference.AB, reference.AC, reference.BC].entries()) {
      const kappa = sound(pairs[i]!.kappa)
      near(kappa.kappa, want.kappa, 'kappa')
      near(kappa.error, want.se, 'error')
      near(kappa.lower, want.ci95[0]!, 'lower')
      near(kappa.largest, want.kappa_max, 'largest')
      near(pairs[i]!.agreed.successes / pairs[i]!.agreed.trials, want.po, 'agreed')
    }
    near(sound(all).kappa, reference.fleiss.kappa, 'all')
    near(sound(all).errorOfNone, reference.fleiss.se_under_null, 'all')
    expect(shares.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 12)
  })
  it('against the truth: hits and false calls with exact bounds', () => {
    const [first] = prove().againstTruth
    near(sound(first!.kappa).kappa, reference.truthA.kappa, 'kappa')
    const right = first!.hits!.successes + first!.falseCalls!.trials - first!.falseCalls!.successes
    near(right / 60, reference.truthA.po, 'right')
    expect(first!.hits!.trials).toBe(30)
    expect(first!.hits!.lower).toBeLessThan(first!.hits!.successes / 30)
    const untold = rows.map(({ truth: _, ...row }) => row)
    expect(prove(untold).againstTruth).toEqual([])
  })
  it('swapping what is called what changes no kappa; one category has none', () => {
    const swapped = rows.map((row) => ({ ...row, call: 1 - (row.call as number), truth: undefined }))
    near(sound(prove(swapped).all).kappa, reference.fleiss.kappa, 'swapped')
    const same = rows.map((row) => ({ ...row, call: 1, truth: undefined }))
    expect(code(prove(same).all)).toBe('prove/one-category')
    expect(code(prove(same).pairs[0]!.kappa)).toBe('prove/one-category')
    expect(prove(same).pairs[0]!.agreed.successes).toBe(60)
  })
  it('refuses what is no study', () => {
    const refusal = (given: readonly GivenCall[], asked: unknown = study): string =>
      whole(proveAgreement(asked, given, by)).code
    expect(refusal([])).toBe('prove/no-rows')
    expect(refusal(rows.slice(0, 60))).toBe('prove/no-raters')
    expect(refusal(rows.slice(1))).toBe('prove/not-paired')
    expect(refusal([...rows.slice(1), rows[5]!])).toBe('prove/not-paired')
    expect(refusal(rows.map((row, i) => (i === 3 ? { ...row, call: '?' } : row)))).toBe('prove/no-result')
    expect(refusal(rows.map((row, i) => (i === 3 ? { ...row, truth: 1 } : row)))).toBe('prove/two-truths')
    expect(refusal(rows, { ...study, flawed: ['2'] })).toBe('prove/bad-question')
    expect(refusal(rows, { ...study, confidence: undefined })).toBe('prove/bad-question')
  })
})

describe('two instruments', () => {
  const study: InstrumentStudy = {
    ...{ kind: 'instruments', version: 1, name: 'study', conditions: 'invented', scale: 'difference' },
    ...{ width: 2, confidence: 0.95, allowed: null }
  }
  const { pairs } = reference
  const rows: GivenPair[] = pairs.first.map((first, i) => ({
    row: `${i}`,
    first,
    second: pairs.second[i],
    unit: 'l/min'
  }))
  const compare = (change: Partial<InstrumentStudy> = {}, given: readonly GivenPair[] = rows) =>
    sound(compareInstruments({ ...study, ...change }, given, by))

  it('peak flow by two meters: bias, limits, slope', () => {
    const { differences, advice } = compare()
    near(differences.bias, pairs.bias, 'bias')
    near(differences.deviation, pairs.sd, 'deviation')
    near(differences.limits.lower, pairs.limits[0]!, 'lower')
    near(differences.slope, pairs.slope, 'slope')
    near(differences.slopeChance, pairs.p, 'slope')
    expect(advice.map(({ about }) => about)).toEqual(['few'])
  })
  it('as ratios: another unit, or a gain of both, changes nothing', () => {
    const tenfold = rows.map((row) => ({
      ...row,
      first: 10 * (row.first as number),
      second: 10 * (row.second as number)
    }))
    const [one, ten] = [compare({ scale: 'ratio' }).ratios!, compare({ scale: 'ratio' }, tenfold).ratios!]
    near(ten.lower, one.lower, 'lower')
    near(ten.upper, one.upper, 'upper')
    const louder = rows.map((row) => ({ ...row, first: 1.5 * (row.first as number) }))
    near(compare({ scale: 'ratio' }, louder).ratios!.bias, 1.5 * one.bias, 'gain of one')
  })
  it('within what is allowed only with the whole intervals of both limits', () => {
    const { lowerLimit, upperLimit } = compare().differences
    const most = Math.max(-lowerLimit.lower, upperLimit.upper)
    expect(compare({ allowed: most + 0.01 }).isWithinAllowed).toBe(true)
    expect(compare({ allowed: most - 0.01 }).isWithinAllowed).toBe(false)
    expect(compare().isWithinAllowed).toBeUndefined()
  })
  it('names a difference that grows with the reading', () => {
    const grown = rows.map((row, i) => ({ ...row, second: (row.first as number) * (0.8 + 0.005 * (i % 3)) }))
    expect(compare({}, grown).advice.map(({ about }) => about)).toContain('slope')
  })
  it('refuses what are no pairs', () => {
    const refusal = (given: readonly GivenPair[], change: object = {}): string =>
      whole(compareInstruments({ ...study, ...change }, given, by)).code
    const changed = (change: Partial<GivenPair>): GivenPair[] =>
      rows.map((row, i) => (i === 2 ? { ...row, ...change } : row))
    expect(refusal(rows.slice(0, 2))).toBe('prove/too-few-pairs')
    expect(refusal(changed({ second: Number.NaN }))).toBe('prove/not-paired')
    expect(refusal(changed({ unit: 'l/s' }))).toBe('prove/mixed-units')
    expect(refusal(changed({ first: 0 }), { scale: 'ratio' })).toBe('prove/signal-not-positive')
    expect(refusal(rows.map((row) => ({ ...row, first: 3, second: 3 })))).toBe('prove/no-scatter')
    expect(refusal(rows, { width: 0 })).toBe('prove/bad-question')
  })
})
