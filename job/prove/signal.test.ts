import { createHash } from 'node:crypto'
import { exp, fitLaw, log, randomFrom } from '@trueloop/ground/numerics'
import { isRefusal, type Refusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import {
  chanceInScan,
  type GivenSignalRow,
  proposedBound,
  proveSignal,
  proveSignalAgain,
  type SignalCurve,
  type SignalResult,
  type SignalStudy,
  sweepThresholds,
  thresholdFromNoise
} from './index.ts'
import reference from './reference/signal.json' with { type: 'json' }

/** Oracle: R 4.2.2 (reference/signal.json); difficult cases with the verdict each must have; counts of a simulation. */

const hash = (text: string): string => createHash('sha256').update(text).digest('hex')
const by = { hash, program: 'test 1' }

const study: SignalStudy = {
  ...{ kind: 'signal-response', version: 1, name: 'trial', conditions: 'invented', flaws: 'real', measure: 'depth' },
  ...{ scale: 'ln size', response: 'ln signal', floor: null, saturation: null, threshold: 0.5 },
  ...{ threshold_from: 'invented', share: 0.9, confidence: 0.95, bound: 'exact', inspectors: 'one', excluded: [] }
}

const sound = <T>(value: T): Exclude<T, { refused: true }> => {
  if (isRefusal(value)) throw new Error(`${value.code}: ${value.found}`)
  return value as Exclude<T, { refused: true }>
}

const code = (value: unknown): string => (isRefusal(value) ? value.code : 'answered')

interface Table {
  readonly size: readonly number[]
  readonly signal: readonly number[]
  readonly limit?: readonly string[]
  readonly flaw?: readonly string[]
  readonly inspector?: readonly string[]
}

const rowsOf = ({ size, signal, limit, flaw, inspector }: Table): GivenSignalRow[] =>
  size.map((value, i) => ({
    ...{ row: `${i + 2}`, size: value, unit: 'mm', signal: signal[i], signal_unit: 'V' },
    ...{ specimen: `S${flaw?.[i] ?? i}`, limit: limit?.[i] },
    ...(inspector === undefined ? {} : { inspector: inspector[i] })
  }))

const rowsNamed = (name: string): GivenSignalRow[] =>
  rowsOf((reference.tables as Readonly<Record<string, Table>>)[name] as Table)

const prove = (rows: readonly GivenSignalRow[], change: Partial<SignalStudy> = {}): SignalResult =>
  sound(proveSignal({ ...study, ...change }, rows, by))

const curveOf = (rows: readonly GivenSignalRow[], change: Partial<SignalStudy> = {}): SignalCurve =>
  sound(prove(rows, change).curve!)

const near = (got: number | undefined, expected: number, at: string, within = reference.tolerance): void =>
  expect(Math.abs((got ?? Number.NaN) / expected - 1), `${at}: ${got} for ${expected}`).toBeLessThanOrEqual(within)

const mm = (size_m: unknown): number => (isRefusal(size_m) ? Number.NaN : 1000 * (size_m as number))

describe.each(reference.cases)('signals of $data, $response over $scale', (one) => {
  const { scale, response, floor, saturation } = one
  const asked = { scale, response, floor, saturation, bound: 'likelihood' } as Partial<SignalStudy>
  const curve = (): SignalCurve => curveOf(rowsNamed(one.data), asked)

  it('response, sizes, bounds by every method', () => {
    const got = curve()
    const perMeter = scale === 'size' ? 1000 : 1
    near(got.slope, one.b1 * perMeter, 'slope')
    near(got.tau, one.tau, 'tau')
    near(got.logLikelihood, one.loglik, 'likelihood')
    near(mm(got.a50_m), one.a50, 'a50')
    near(mm(got.asked_m), one.a90, 'a90')
    const bound = (method: string): number => mm(got.bounds.find((found) => found.method === method)?.size_m)
    near(bound('likelihood'), one.likelihood, 'likelihood')
    near(bound('crossing'), one.crossing, 'crossing')
    near(bound('propagation'), one.propagation, 'propagation')
    near(bound('joint propagation'), one.joint, 'joint')
    near(mm(got.stated), one.likelihood, 'stated')
    if (one.exact !== undefined) {
      near(bound('exact'), one.exact, 'exact')
      near(mm(got.askedByDof_m), one.byDof, 'by n - 2')
    } else expect(code(got.bounds[0]?.size_m)).toBe('prove/bound-not-for-this')
  })
})

describe('difficult cases have the verdict that is due', () => {
  const limits = { floor: 0.3, saturation: 3, bound: 'likelihood' } as const
  it('all below the floor, or a line through the two that were read: refused', () => {
    expect(code(prove(rowsNamed('allcens'), limits).curve)).toBe('prove/too-few-read')
    expect(code(prove(rowsNamed('perfect'), limits).curve)).toBe('prove/too-few-read')
    expect(code(prove(rowsNamed('perfect'), limits).stated_m)).toBe('prove/too-few-read')
  })
  it('eight rows with both limits: answered, with a warning', () => {
    const { advice, data } = prove(rowsNamed('tiny'), limits)
    expect(advice.map(({ about }) => about)).toEqual(
      expect.arrayContaining(['small', 'limits', 'no-blanks', 'coverage'])
    )
    expect([data.below, data.read, data.above]).toEqual([2, 4, 2])
  })
  it('a signal that is none is left out and counted; one of zero is refused until a floor is stated', () => {
    const rows = rowsNamed('ahat1')
    const lost = rows.map((row, i) => (i === 4 ? { ...row, signal: Number.NaN } : row))
    expect(prove(lost).data.exclusions.map(({ why }) => why.code)).toEqual(['prove/no-signal'])
    const zero = rows.map((row, i) => (i === 4 ? { ...row, signal: 0 } : row))
    expect(code(proveSignal(study, zero, by))).toBe('prove/signal-not-positive')
    expect(prove(zero, { floor: 0.05, bound: 'likelihood' }).data.below).toBe(1)
  })
  it('signals that fall with size: refused', () => {
    const fallen = rowsNamed('ahat1').map((row) => ({ ...row, signal: 1 / (row.signal as number) }))
    expect(code(prove(fallen).stated_m)).toBe('prove/falling')
  })
  it('a rise that is not told from chance: no size is stated by any method', () => {
    const rows = rowsOf({ size: [0.5, 1, 1.5, 2, 2.5, 3], signal: [3, 1, 4, 1, 5, 3] })
    const { curve, stated_m, advice } = prove(rows, { scale: 'size', response: 'signal', threshold: 3 })
    expect(code(stated_m)).toBe('prove/not-demonstrated')
    for (const { size_m } of sound(curve!).bounds) expect(isRefusal(size_m)).toBe(true)
    expect(advice.map(({ about }) => about)).toContain('not-demonstrated')
  })
})

describe('a study of signals', () => {
  const rows = rowsNamed('ahat1')
  it('tries all four responses, logs them, names the better one and keeps to its own', () => {
    const { fits, advice, curve } = prove(rows, { response: 'signal', scale: 'size' })
    expect(fits.map(({ outcome }) => outcome)).toEqual(['converged', 'converged', 'converged', 'converged'])
    expect(fits[0]?.akaike).toBeLessThan(fits[3]!.akaike!)
    // l of ln signal less the sum of ln signal is that of the best power at 0 (R, box-cox of the same rows)
    near(fits[0]?.logLikelihood, 101.66875359181606 - 60 * (0.5 * log(2 * Math.PI) + 0.5), 'likelihood')
    expect(advice.map(({ about }) => about)).toEqual(expect.arrayContaining(['scatter', 'bend', 'other-fit']))
    expect(sound(curve!).checks?.of).toBe('all rows')
  })
  it('does not depend on the order of the rows', () => {
    const turned = prove([...rows].reverse())
    near(turned.stated_m as number, prove(rows).stated_m as number, 'turned')
    near(sound(turned.curve!).logLikelihood, sound(prove(rows).curve!).logLikelihood, 'likelihood')
  })
  it('is the same in inches, and in signals ten times as large', () => {
    const first = prove(rows).stated_m as number
    const inches = rows.map((row) => ({ ...row, size: (row.size as number) / 25.4, unit: 'in' }))
    near(prove(inches).stated_m as number, first, 'inches')
    const tenfold = rows.map((row) => ({ ...row, signal: 10 * (row.signal as number) }))
    near(prove(tenfold, { threshold: 5 }).stated_m as number, first, 'gain')
  })
  it('takes blanks to false calls alone, at or above the threshold', () => {
    const blank = (signal: number, i: number): GivenSignalRow => ({
      ...rows[0]!,
      row: `b${i}`,
      specimen: `B${i}`,
      size: 0,
      signal
    })
    const { falseCalls, data, stated_m } = prove([...rows, ...[0.1, 0.2, 0.5, 0.3].map(blank)])
    expect([data.flaws, data.blanks]).toEqual([60, 4])
    expect([sound(falseCalls).calls, sound(falseCalls).blanks]).toEqual([1, 4])
    expect(stated_m).toBe(prove(rows).stated_m)
  })
  it('comes out again to the bit from its statement and its rows, from no others and by no other method', () => {
    const kept = JSON.parse(JSON.stringify(prove(rows))) as SignalResult
    expect(sound(proveSignalAgain(kept, rows, { ...by, program: 'test 2' })).same).toBe(true)
    expect(code(proveSignalAgain(kept, rows.slice(1), by))).toBe('prove/other-data')
    expect(code(proveSignalAgain({ ...kept, method: 0 }, rows, by))).toBe('prove/other-method')
  })
  it('has a proposal for its bound', () => {
    expect([proposedBound(true, 'one'), proposedBound(false, 'one')]).toEqual(['exact', 'likelihood'])
    expect(proposedBound(true, 'repeats apart')).toBe('crossing')
  })
})

describe('repeats and several inspectors', () => {
  const { repeated } = reference
  const rows = rowsOf(repeated)
  const random = { inspectors: 'repeats at random', bound: 'crossing' } as const

  it('at random: slope, its error, variances, sizes of the population', () => {
    const got = sound(prove(rows, random).repeated!)
    near(got.slope, repeated.b1, 'slope')
    near(got.slopeError, repeated.slopeError, 'error', repeated.lme4)
    expect(got.slopeError).toBeGreaterThan(2 * repeated.asIndependent)
    near(got.variances.flaws, repeated.variances.flaws, 'flaws')
    near(got.variances.inspectors, repeated.variances.inspectors, 'inspectors')
    near(got.variances.repeats, repeated.variances.repeats, 'repeats')
    near(mm(got.groups[0]?.a50_m), repeated.a50, 'a50')
    near(mm(got.groups[0]?.asked_m), repeated.a90, 'a90', repeated.lme4)
  })
  it('apart: the worst of the inspectors is stated', () => {
    const result = prove(rows, { inspectors: 'repeats apart', bound: 'crossing' })
    const { groups, stated } = sound(result.repeated!)
    expect(groups.map(({ inspector }) => inspector)).toEqual(['P1', 'P2', 'P3'])
    const bounds = groups.map((group) => mm(group.bounds.find(({ method }) => method === 'crossing')?.size_m))
    expect(mm(stated)).toBe(Math.max(...bounds))
    expect(bounds.indexOf(Math.max(...bounds))).toBe(0) // P1 was drawn with the smallest signals
    expect(result.advice.map(({ about }) => about)).toContain('few-inspectors')
  })
  it('given as independent rows they are refused', () => {
    const refused = proveSignal(study, rows, by) as Refusal
    expect(refused.code).toBe('prove/repeats-as-rows')
    expect(code(prove(rows, { ...random, bound: 'exact' }).stated_m)).toBe('prove/bound-not-for-this')
    expect(code(prove(rows, { ...random, floor: 0.3 }).stated_m)).toBe('prove/repeats-beyond-limits')
    expect(
      code(
        prove(
          rows.map((row) => ({ ...row, size: 1 })),
          random
        ).repeated
      )
    ).toBe('prove/one-size')
    expect(
      code(
        prove(
          rows.slice(0, 4).map((row, i) => ({ ...row, specimen: `S${i}`, size: 1 + i })),
          random
        ).repeated
      )
    ).toBe('prove/no-fit')
  })
  it('bounds about as often as they promise: 95 % of 120 trials of 30 flaws by 8 inspectors, at least 90 %', () => {
    const draws = randomFrom('coverage of repeats')
    const truth = exp(
      (log(0.5) - log(0.85) + 1.2815515655446004 * Math.sqrt(0.09 * 0.09 + 0.18 * 0.18 + 0.1 * 0.1)) / 1.1
    )
    let held = 0
    for (let trial = 0; trial < 120; trial++) {
      const inspectors = Array.from({ length: 8 }, () => 0.1 * draws.normal())
      const given = Array.from({ length: 30 }, (_, flaw) => {
        const size = 0.25 * exp((flaw / 29) * log(14))
        const own = 0.18 * draws.normal()
        return inspectors.map(
          (shift, k): GivenSignalRow => ({
            ...{ row: `${flaw}/${k}`, size, unit: 'mm', signal_unit: 'V', specimen: `S${flaw}`, inspector: `P${k}` },
            signal: exp(log(0.85) + 1.1 * log(size) + own + shift + 0.09 * draws.normal())
          })
        )
      }).flat()
      const { stated_m } = prove(given, random)
      if (mm(stated_m) >= truth) held++
    }
    expect(held / 120).toBeGreaterThan(0.9)
  }, 60_000)
})

describe('a threshold from noise', () => {
  const asked = { law: 'log-normal', chance: 0.01, opportunity: 'a hole', confidence: null } as const
  const names = {
    normal: 'normal',
    'log-normal': 'lognormal',
    weibull: 'weibull',
    gamma: 'gamma',
    gumbel: 'gumbel_max',
    exponential: 'exponential'
  } as const

  it('by each law, and as counted', () => {
    for (const row of reference.thresholds) {
      const { tried } = sound(thresholdFromNoise({ ...asked, chance: row.pfa }, reference.noise))
      for (const { law, threshold } of tried)
        near(threshold, row[names[law]], law, law === 'weibull' ? 1e-7 : reference.tolerance)
      const counted = thresholdFromNoise({ ...asked, chance: row.pfa, law: 'as counted' }, reference.noise)
      if (row.pfa < 1 / 200) expect(code(counted)).toBe('prove/noise-too-few')
      else near(sound(counted).threshold, row.empirical_type7, 'as counted')
    }
  })
  it('with confidence for log-normal noise, for no other than normal', () => {
    for (const { pfa, threshold } of reference.upper) {
      const got = sound(thresholdFromNoise({ ...asked, chance: pfa, confidence: 0.95 }, reference.noise))
      near(got.threshold, threshold, `${pfa}`)
    }
    expect(code(thresholdFromNoise({ ...asked, law: 'gamma', confidence: 0.95 }, reference.noise))).toBe(
      'prove/bad-question'
    )
  })
  it('refuses readings that it can not take', () => {
    expect(code(thresholdFromNoise(asked, [0.1, 0.2]))).toBe('prove/noise-too-few')
    expect(code(thresholdFromNoise(asked, [0.1, 0.2, Number.NaN]))).toBe('prove/noise-too-few')
    expect(code(thresholdFromNoise(asked, [0.1, 0.2, 0, 0.3]))).toBe('prove/no-fit')
    expect(code(thresholdFromNoise({ ...asked, chance: undefined }, reference.noise))).toBe('prove/bad-question')
  })
  it('over a scan of many opportunities', () => {
    near(chanceInScan(0.01, 100), 1 - Math.exp(100 * Math.log(0.99)), 'hundred', 1e-13)
    near(chanceInScan(1e-12, 10), 1e-11, 'rare', 1e-10)
  })
  it('swept: sizes and false calls at each threshold', () => {
    const noise = sound(fitLaw('log-normal', reference.noise))
    const thresholds = reference.sweep.map(({ threshold }) => threshold)
    const swept = sound(sweepThresholds(study, rowsNamed('ahat1'), { thresholds, noise }))
    for (const [i, want] of reference.sweep.entries()) {
      near(swept[i]?.falseCalls, want.pfa_lognormal, 'false calls')
      near(mm(sound(swept[i]!.sizes).a50_m), want.a50, 'a50')
      near(mm(sound(swept[i]!.sizes).asked_m), want.a90, 'a90')
    }
    const limited = sweepThresholds({ ...study, floor: 0.3 }, rowsNamed('ahat1'), { thresholds: [0.2, 0.5] })
    expect(sound(limited).map(({ sizes }) => code(sizes))).toEqual(['prove/threshold-beyond-limits', 'answered'])
    const repeats = { inspectors: 'repeats at random', bound: 'crossing' }
    const many = sweepThresholds({ ...study, ...repeats }, rowsOf(reference.repeated), { thresholds: [0.5] })
    near(mm(sound(sound(many)[0]!.sizes).a50_m), reference.repeated.a50, 'a50 of repeats')
    expect(code(sweepThresholds({ ...study, share: 2 }, [], { thresholds: [] }))).toBe('prove/bad-question')
  })
})

describe('bad rows are refused, with what was found and what to do', () => {
  const good = rowsNamed('ahat2_cens')
  const limits = { floor: 0.3, saturation: 3, bound: 'likelihood' } as const
  const refusal = (rows: readonly GivenSignalRow[], change: Partial<SignalStudy> = {}): Refusal => {
    const result = proveSignal({ ...study, ...limits, ...change }, rows, by)
    if (!isRefusal(result)) throw new Error('answered')
    for (const part of [result.found, result.needed, result.remedy]) expect(part.length).toBeGreaterThan(3)
    return result
  }
  const changed = (change: Partial<GivenSignalRow>, at = 1): GivenSignalRow[] =>
    good.map((row, i) => (i === at ? { ...row, ...change } : row))

  it('tables as a whole', () => {
    expect(refusal([]).code).toBe('prove/no-rows')
    expect(refusal(good.slice(0, 1)).code).toBe('prove/one-row')
    expect(refusal(good.map((row) => ({ ...row, size: 0 }))).code).toBe('prove/no-rows')
    expect(refusal(changed({ unit: 'in' })).code).toBe('prove/mixed-units')
    expect(refusal(changed({ signal_unit: '%' })).code).toBe('prove/mixed-units')
    expect(refusal(changed({ specimen: 'S7' })).code).toBe('prove/flaw-of-two-sizes')
  })
  it('limits on the wrong side', () => {
    expect(refusal(good, { floor: 3, saturation: 0.3 }).code).toBe('prove/limits-crossed')
    expect(refusal(good, { threshold: 0.2 }).code).toBe('prove/threshold-beyond-limits')
    expect(refusal(changed({ limit: 'below' })).code).toBe('prove/limit-wrong-side')
    expect(refusal(changed({ limit: 'above', signal: 0.1 })).code).toBe('prove/limit-wrong-side')
    expect(refusal(changed({ limit: 'lost' })).code).toBe('prove/limit-wrong-side')
    expect(refusal(good, { floor: null }).code).toBe('prove/limit-wrong-side')
    expect(refusal(good, { floor: -1, threshold: -0.5 }).code).toBe('prove/signal-not-positive')
  })
  it('a mark without a signal counts as its limit', () => {
    const marked = good.map((row) => (row.limit === '' ? row : { ...row, signal: undefined }))
    expect(prove(marked, limits).stated_m).toBe(prove(good, limits).stated_m)
  })
  it('single rows, which are left out and counted', () => {
    const excluded = (rows: readonly GivenSignalRow[]): readonly string[] =>
      prove(rows, limits).data.exclusions.map(({ why }) => why.code)
    expect(excluded(changed({ size: Number.NaN }))).toEqual(['prove/no-size'])
    expect(excluded(changed({ size: -0.3 }))).toEqual(['prove/negative-size'])
    expect(excluded(changed({ signal: '0.7' }))).toEqual(['prove/no-signal'])
  })
  it('rows without a response in them', () => {
    const same = good.map((row) => ({ ...row, size: 1 }))
    expect(code(prove(same, limits).curve)).toBe('prove/one-size')
    const straight = rowsNamed('ahat1').map((row) => ({ ...row, signal: 2 * (row.size as number) }))
    expect(code(prove(straight, { response: 'signal', scale: 'size' }).curve)).toBe('prove/no-scatter')
  })
  it('a question with a setting that is missing', () => {
    const { threshold: _, ...rest } = study
    expect(code(proveSignal(rest, good, by))).toBe('prove/bad-question')
  })
  it('simulated flaws prove no technique', () => {
    expect(prove(good, { ...limits, flaws: 'simulated' }).advice.map(({ about }) => about)).toContain('not-real')
  })
})
