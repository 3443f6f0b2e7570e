import { createHash } from 'node:crypto'
import { calibrate, inversePrediction } from '@trueloop/ground/numerics'
import { isRefusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import {
  type GaugeStudy,
  type GivenRow,
  type GivenSignalRow,
  type HitMissStudy,
  proposedStudy,
  proveAgreement,
  proveGauge,
  proveHitMiss,
  proveSignal,
  type SignalStudy
} from './index.ts'
import reference from './reference/difficult.json' with { type: 'json' }
import gauge from './reference/gauge.json' with { type: 'json' }
import hitMiss from './reference/hit-miss.json' with { type: 'json' }
import signals from './reference/signal.json' with { type: 'json' }

/**
 * Twenty-six difficult cases, each with the verdict it must have, the figures that go with it and what must be said.
 * Oracle: the verdicts and figures of reference/difficult.json, which came before this program.
 */

interface Case {
  readonly area: string
  readonly data: string
  readonly expected: string
  /** by part of the result: a code of a refusal, or 'answered' */
  readonly answers: Readonly<Record<string, string>>
  readonly figures: Readonly<Record<string, number>>
  /** texts that the result has to hold */
  readonly says: readonly string[]
  /** a figure in mm that may stand nowhere in it */
  readonly never?: number
  readonly generator?: { readonly seed: number }
  readonly study?: Partial<SignalStudy>
  readonly change?: 'inverse' | { readonly signal: number | null }
  readonly x?: readonly number[]
  readonly y?: readonly number[]
  readonly reading?: number
  /** a table to stand beside */
  readonly also?: string
}

/** What a result says, in the words of the table. */
interface Told {
  readonly answers: Readonly<Record<string, string>>
  readonly figures: Readonly<Record<string, number | undefined>>
  readonly whole: unknown
}

const by = { hash: (text: string): string => createHash('sha256').update(text).digest('hex'), program: 'test 1' }

const sound = <T>(value: T): Exclude<T, { refused: true }> => {
  if (isRefusal(value)) throw new Error(`${value.code}: ${value.found}`)
  return value as Exclude<T, { refused: true }>
}

const maybe = <T>(value: T): Exclude<T, { refused: true }> | undefined =>
  isRefusal(value) ? undefined : (value as Exclude<T, { refused: true }>)

const code = (value: unknown): string => (isRefusal(value) ? value.code : 'answered')

const mm = (size_m: unknown): number | undefined => (typeof size_m === 'number' ? 1000 * size_m : undefined)

const MANY = 100_000

function uniforms(seed: number): () => number {
  let state = seed
  return () => {
    state = (16807 * state) % 2147483647
    return state / 2147483647
  }
}

const hitStudy: HitMissStudy = {
  ...proposedStudy,
  ...{ kind: 'hit-miss', version: 1, name: 'trial', conditions: 'invented', flaws: 'real', measure: 'depth' },
  ...{ inspectors: 'one', excluded: [] }
}

interface HitTable {
  readonly size: readonly (number | null)[]
  readonly hit: readonly (number | null)[]
}

function manyHits(seed: number): HitTable {
  const next = uniforms(seed)
  const size: number[] = []
  const hit = Array.from({ length: MANY }, () => {
    size.push(0.1 + 4.9 * next())
    return next() < 1 / (1 + Math.exp(0.3 - 2.8 * Math.log(size.at(-1)!))) ? 1 : 0
  })
  return { size, hit }
}

const hitRows = ({ size, hit }: HitTable): GivenRow[] =>
  size.map((value, i) => ({
    ...{ row: `${i + 2}`, size: value ?? Number.NaN, unit: 'mm', hit: hit[i] ?? Number.NaN, specimen: `S${i}` }
  }))

function toldOfHits({ data, generator }: Case): Told {
  const sets = hitMiss.sets as Readonly<Record<string, HitTable>>
  const result = sound(proveHitMiss(hitStudy, hitRows(generator ? manyHits(generator.seed) : sets[data]!), by))
  const group = result.groups[0]!
  const curve = maybe(group.curve)
  const { split } = group
  const levels = maybe(curve?.asymptotes)
  return {
    answers: { curve: code(group.curve), stated: code(result.stated_m) },
    figures: {
      ...{ a90: mm(curve?.asked_m), stated: mm(result.stated_m), overall: group.overall?.lower },
      ...('below' in split ? { below: mm(split.below), above: mm(split.above) } : {}),
      ...{ penalizedBound: mm(group.penalized?.bound?.size_m), ceiling: levels?.ceiling.value },
      ...{ deviance: curve?.tests.sizes?.deviance.statistic, devianceChance: curve?.tests.sizes?.deviance.p },
      ...{ rows: result.data.rows, flaws: result.data.flaws, blanks: result.data.blanks },
      ...{ excluded: result.data.exclusions.length, falseCalls: maybe(result.falseCalls)?.calls }
    },
    whole: result
  }
}

const signalStudy: SignalStudy = {
  ...{ kind: 'signal-response', version: 1, name: 'trial', conditions: 'invented', flaws: 'real', measure: 'depth' },
  ...{ scale: 'ln size', response: 'ln signal', floor: null, saturation: null, threshold: 0.5 },
  ...{ threshold_from: 'invented', share: 0.9, confidence: 0.95, bound: 'exact', inspectors: 'one', excluded: [] }
}

interface SignalTable {
  readonly size: readonly number[]
  readonly signal: readonly (number | null)[]
  readonly limit?: readonly string[]
}

function manySignals(seed: number): SignalTable {
  const next = uniforms(seed)
  const size: number[] = []
  const signal = Array.from({ length: MANY }, () => {
    size.push(0.2 + 3.8 * next())
    const radius = Math.sqrt(-2 * Math.log(next()))
    const error = radius * Math.cos(2 * Math.PI * next())
    return Math.exp(Math.log(0.9) + 1.1 * Math.log(size.at(-1)!) + 0.25 * error)
  })
  return { size, signal }
}

const signalRows = ({ size, signal, limit }: SignalTable): GivenSignalRow[] =>
  size.map((value, i) => ({
    ...{ row: `${i + 2}`, size: value, unit: 'mm', signal: signal[i], signal_unit: 'V' },
    ...{ specimen: `S${i}`, limit: limit?.[i] }
  }))

function signalTable({ data, generator, change }: Case): SignalTable {
  const table = generator ? manySignals(generator.seed) : (signals.tables as Record<string, SignalTable>)[data]!
  if (change === undefined) return table
  const changed = table.signal.map((value, i) =>
    change === 'inverse' ? 1 / value! : i === 4 ? (change.signal ?? Number.NaN) : value
  )
  return { ...table, signal: changed }
}

function toldOfSignals(one: Case): Told {
  const rows = signalRows(signalTable(one))
  const study = { ...signalStudy, ...one.study }
  const first = proveSignal(study, rows, by)
  const result = sound(isRefusal(first) ? proveSignal({ ...study, floor: 0.05 }, rows, by) : first)
  const curve = maybe(result.curve)
  const { rows: all, flaws, below, read, above, exclusions } = result.data
  const propagated = curve?.bounds.find(({ method }) => method === 'propagation')?.size_m
  return {
    answers: {
      ...(isRefusal(first) ? { whole: first.code, floored: code(result.curve) } : {}),
      ...{ curve: code(result.curve), stated: code(result.stated_m) }
    },
    figures: {
      ...{ a90: mm(curve?.asked_m), stated: mm(result.stated_m), propagated: mm(propagated) },
      ...{ rows: all, flaws, below, read, above, excluded: exclusions.length }
    },
    whole: [first, result]
  }
}

function toldOfCalibration({ x = [], y = [], reading = 0 }: Case): Told {
  const line = calibrate({ x, y })
  if (isRefusal(line)) return { answers: { whole: line.code }, figures: {}, whole: line }
  const asked = { of: 'reading', scatter: 'line', confidence: 0.95, range: 'any' } as const
  const got = sound(inversePrediction(line, { readings: [reading], ...asked }))
  const ends = got.set.kind === 'rays' ? { upTo: got.set.upTo, from: got.set.from } : {}
  return {
    answers: { whole: 'answered', set: got.set.kind },
    figures: { estimate: got.estimate, g: got.g, ...ends },
    whole: got
  }
}

const gaugeStudy: GaugeStudy = {
  ...{ kind: 'gauge', version: 1, name: 'study', conditions: 'invented', reading: 'amplitude', scale: 'reading' },
  ...{ method: 'mean squares', interaction: 'kept', width: 6, tolerance: null, confidence: 0.95 }
}

function gaugeRows(name: string) {
  const table = gauge.studies.find((study) => study.name === name)?.table ?? gauge.unbalanced.table
  const { part, operator, reading } = table
  return reading.map((value, i) => ({
    ...{ row: `${i + 2}`, part: part[i], operator: operator[i], reading: value, unit: 'V' }
  }))
}

function toldOfGauge({ data, also }: Case): Told {
  const rows = gaugeRows(data)
  const first = proveGauge(gaugeStudy, rows, by)
  const asked = { ...gaugeStudy, method: 'restricted likelihood', interaction: 'left out' }
  const result = maybe(first)
  const beside = also === undefined ? undefined : sound(proveGauge(gaugeStudy, gaugeRows(also), by))
  return {
    answers: { whole: code(first), likelihood: code(proveGauge(asked, rows, by)) },
    figures: {
      rawInteraction: result?.components?.raw.interaction,
      interaction: result?.shares.find(({ source }) => source === 'interaction')?.deviation,
      alsoRawInteraction: beside?.components?.raw.interaction
    },
    whole: first
  }
}

function toldOfAgreement(): Told {
  const study = {
    ...{ kind: 'agreement', version: 1, name: 'study', conditions: 'invented' },
    ...{ categories: ['0', '1'], flawed: ['1'], confidence: 0.95 }
  }
  const calls = ['A', 'B'].flatMap((inspector) =>
    Array.from({ length: 20 }, (_, i) => ({ row: `${inspector}${i}`, site: `S${i}`, inspector, call: 1 }))
  )
  const first = proveAgreement(study, calls, by)
  const { kappa, agreed } = sound(first).pairs[0]!
  return {
    answers: { whole: code(first), kappa: code(kappa) },
    figures: { agreed: agreed.successes / agreed.trials },
    whole: first
  }
}

const told: Readonly<Record<string, (one: Case) => Told>> = {
  'hit/miss': toldOfHits,
  signal: toldOfSignals,
  calibration: toldOfCalibration,
  gauge: toldOfGauge,
  agreement: toldOfAgreement
}

/** Penalized fits and those with a floor and a ceiling are known to fewer digits. */
const looser: Readonly<Record<string, number>> = {
  penalizedBound: hitMiss.looser.penalized,
  ceiling: hitMiss.looser.asymptotes
}

const cases = reference.cases as readonly Case[]

describe('difficult cases', () => {
  // Two of them have a hundred thousand rows.
  it.each(cases)('$area, $data: $expected', { timeout: 300_000 }, (one) => {
    const { answers, figures, whole } = told[one.area]!(one)
    expect(answers).toMatchObject(one.answers)
    for (const [name, expected] of Object.entries(one.figures)) {
      const got = figures[name] ?? Number.NaN
      const off = expected === 0 ? Math.abs(got) : Math.abs(got / expected - 1)
      expect(off, `${name}: ${got} for ${expected}`).toBeLessThanOrEqual(looser[name] ?? reference.tolerance)
    }
    const text = JSON.stringify(whole)
    for (const said of one.says) expect(text).toContain(said)
    if (one.never !== undefined) expect(text).not.toContain(`${one.never / 1000}`.slice(0, 8))
  })

  it('are all here', () => expect(cases.length).toBe(26))
})
