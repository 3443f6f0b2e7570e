import type { Result } from '../../refusal/index.ts'
import { type NumericsCode, refuse } from '../codes.ts'
import { type Condensed, condense } from './condense.kernel.ts'
import { type Counts, placesOfSingles } from './places.kernel.ts'

/** Hits among trials at places x, in any order, columns of one length. */
export interface BinaryRows {
  readonly x: ArrayLike<number>
  readonly hits: ArrayLike<number>
  readonly trials: ArrayLike<number>
}

/** The same with equal x put together, x rising; z = (x - mean)/scale is what the iterations see. */
export interface Tally {
  readonly x: Float64Array
  readonly z: Float64Array
  readonly hits: Float64Array
  readonly misses: Float64Array
  readonly trials: number
  readonly hitCount: number
  readonly mean: number
  /** standard deviation of x over the trials; 1 where all x are equal */
  readonly scale: number
  /** the same at fewer places, for sums: where there are many */
  readonly condensed?: Condensed
}

/**
 * Hits and misses that don't overlap: the likelihood has no finite maximum. `rises`: hits lie above. `below`, `above`
 * are the ends of the gap, equal where only the rows at one place mix.
 */
export interface Gap {
  readonly kind: 'complete' | 'quasi-complete'
  readonly rises: boolean
  readonly below: number
  readonly above: number
}

/** What the data split into, looked at before any iteration. */
export type Split = Gap | { readonly kind: 'mixed' } | { readonly kind: 'all hits' | 'all misses' | 'one place' }

/**
 * Puts rows of one place together. Refuses: numerics/too-few-points (no trial). Throws RangeError for columns that do
 * not fit, x that is no number, counts that are not 0 <= hits <= trials.
 */
export function tallyOf(rows: BinaryRows): Result<Tally, NumericsCode> {
  checkRows(rows)
  if (isOneEach(rows)) return placed(placesOfSingles(rows))
  const { x, hits, trials } = rows
  const kept = Array.from(x, (_, i) => i).filter((i) => trials[i]! > 0)
  if (kept.length === 0) return nothingTried()
  const sorted = Float64Array.from(kept, (i) => x[i]! + 0).sort()
  const places = sorted.filter((value, i) => i === 0 || value !== sorted[i - 1])
  const counts = { x: places, hits: new Float64Array(places.length), misses: new Float64Array(places.length) }
  for (const i of kept) {
    const at = indexIn(places, x[i]!)
    counts.hits[at]! += hits[i]!
    counts.misses[at]! += trials[i]! - hits[i]!
  }
  return placed(counts)
}

/** Whether every row is one trial, a hit or a miss. */
function isOneEach({ hits, trials }: BinaryRows): boolean {
  if (trials.length === 0) return false
  for (let i = 0; i < trials.length; i++) if (trials[i] !== 1 || (hits[i] !== 0 && hits[i] !== 1)) return false
  return true
}

/** Where a value stands in a rising column that has it. */
export function indexIn(places: Float64Array, value: number): number {
  let low = 0
  let high = places.length - 1
  while (low < high) {
    const middle = (low + high) >> 1
    if (places[middle]! < value) low = middle + 1
    else high = middle
  }
  return low
}

function placed({ x, hits, misses }: Counts): Tally {
  let [trials, hitCount] = [0, 0]
  for (let i = 0; i < x.length; i++) {
    trials += hits[i]! + misses[i]!
    hitCount += hits[i]!
  }
  const { mean, scale } = spreadOf({ x, hits, misses }, trials)
  const z = new Float64Array(x.length)
  for (let i = 0; i < x.length; i++) z[i] = (x[i]! - mean) / scale
  const condensed = condense({ z, hits, misses })
  return { x, z, hits, misses, trials, hitCount, mean, scale, ...(condensed === undefined ? {} : { condensed }) }
}

/** Mean, taken twice so that no digit is lost, and standard deviation over the trials. */
function spreadOf(counts: Counts, trials: number): Pick<Tally, 'mean' | 'scale'> {
  const near = awayFrom(counts, 0).sum / trials
  const mean = near + awayFrom(counts, near).sum / trials
  return { mean, scale: counts.x.length > 1 ? Math.sqrt(awayFrom(counts, mean).square / trials) : 1 }
}

/** Sums of x - place and its square over the trials. */
function awayFrom({ x, hits, misses }: Counts, place: number): { readonly sum: number; readonly square: number } {
  let [sum, square] = [0, 0]
  for (let i = 0; i < x.length; i++) {
    const part = (x[i]! - place) * (hits[i]! + misses[i]!)
    sum += part
    square += (x[i]! - place) * part
  }
  return { sum, square }
}

function checkRows({ x, hits, trials }: BinaryRows): void {
  if (hits.length !== x.length || trials.length !== x.length) throw new RangeError('columns of one length are needed')
  for (let i = 0; i < x.length; i++) {
    const isCount = hits[i]! >= 0 && hits[i]! <= trials[i]! && Number.isFinite(trials[i]!)
    if (!Number.isFinite(x[i]!) || !isCount)
      throw new RangeError(`row ${i}: ${hits[i]} hits among ${trials[i]} trials at ${x[i]}`)
  }
}

/**
 * Whether a finite fit of one covariate exists, by comparing the extremes of hits and misses.
 * source: albert-anderson-1984
 */
export function splitOf({ x, hits, misses, trials, hitCount }: Tally): Split {
  if (hitCount === trials) return { kind: 'all hits' }
  if (hitCount === 0) return { kind: 'all misses' }
  if (x.length === 1) return { kind: 'one place' }
  const firstHit = x[hits.findIndex((count) => count > 0)]!
  const lastHit = x[hits.findLastIndex((count) => count > 0)]!
  const firstMiss = x[misses.findIndex((count) => count > 0)]!
  const lastMiss = x[misses.findLastIndex((count) => count > 0)]!
  if (lastMiss <= firstHit) return apart(true, lastMiss, firstHit)
  return lastHit <= firstMiss ? apart(false, lastHit, firstMiss) : { kind: 'mixed' }
}

const apart = (rises: boolean, below: number, above: number): Gap => ({
  kind: below < above ? 'complete' : 'quasi-complete',
  rises,
  below,
  above
})

function nothingTried(): Result<never, NumericsCode> {
  return refuse('numerics/too-few-points', {
    found: 'no trial',
    needed: 'hits and misses at two places or more',
    remedy: 'give the results of the trial'
  })
}
