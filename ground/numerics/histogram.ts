import type { Result } from '../refusal/index.ts'
import { type NumericsCode, refuse } from './codes.ts'
import type { Cloud } from './scatter.ts'
import { borrowColumn } from './spare-columns.ts'

/**
 * Counts in fixed bins. Counts are whole numbers (exact to 2^53), so adding and merging give the same answer in any
 * order and any cutting. A bin holds its lower edge, not its upper one. Memory is fixed by the specification.
 */

/** Sizes |value| from 0 to `max` in equal bins. */
export interface MagnitudeSpec {
  readonly max: number
  readonly bins: number
}

export interface MagnitudeHistogram {
  readonly spec: MagnitudeSpec
  /** [bin], and one more at the end for everything at or beyond `max`. */
  readonly counts: Float64Array<ArrayBuffer>
}

export function magnitudeHistogram(spec: MagnitudeSpec): MagnitudeHistogram {
  checkAxis({ min: 0, ...spec })
  return { spec, counts: borrowColumn(spec.bins + 1).fill(0) }
}

/** Counts |value| of every value, in place. Throws RangeError for NaN: a gap is left out before it comes here. */
export function countMagnitudes({ spec, counts }: MagnitudeHistogram, values: ArrayLike<number>): void {
  const { bins, max } = spec
  const scale = bins / max
  for (let i = 0; i < values.length; i++) {
    const place = Math.abs(values[i]!) * scale
    if (place < bins) counts[place | 0]! += 1
    else if (place >= bins) counts[bins]! += 1
    else throw new RangeError('NaN can not be counted')
  }
}

/** A new histogram with the counts of both. Throws RangeError where the bins differ. */
export function mergedMagnitudes(a: MagnitudeHistogram, b: MagnitudeHistogram): MagnitudeHistogram {
  if (a.spec.max !== b.spec.max || a.spec.bins !== b.spec.bins) throw new RangeError('histograms of different bins')
  return { spec: a.spec, counts: sumOf(a.counts, b.counts) }
}

/** How many values were counted. */
export function histogramTotal({ counts }: { readonly counts: Float64Array }): number {
  let sum = 0
  for (let i = 0; i < counts.length; i++) sum += counts[i]!
  return sum
}

/**
 * The value below which the share p of the counts lies, linear within its bin (0 < p <= 1; p = 0 is the lower edge of
 * the first bin with counts); who knows how many were counted may say it. Refuses: numerics/nothing-counted, numerics/beyond-last-bin. RangeError for another p.
 */
export function magnitudeQuantile(
  histogram: MagnitudeHistogram,
  p: number,
  total = histogramTotal(histogram)
): Result<number, NumericsCode> {
  if (!(p >= 0 && p <= 1)) throw new RangeError(`a quantile needs a share from 0 to 1, not ${p}`)
  if (total === 0) return nothingCounted()
  const { spec, counts } = histogram
  const target = p * total
  let before = 0
  for (let i = 0; i < spec.bins; i++) {
    const count = counts[i]!
    if (count > 0 && before + count >= target) return ((i + (target - before) / count) * spec.max) / spec.bins
    before += count
  }
  return beyondLastBin(spec.max, p)
}

/** One axis of a plane: `bins` equal bins from `min` to `max`. */
export interface AxisSpec {
  readonly min: number
  readonly max: number
  readonly bins: number
}

export interface PlaneSpec {
  readonly x: AxisSpec
  readonly y: AxisSpec
}

export interface PlaneHistogram {
  readonly spec: PlaneSpec
  /** [x bin * y bins + y bin], and one more at the end for everything outside. */
  readonly counts: Float64Array<ArrayBuffer>
}

export function planeHistogram(spec: PlaneSpec): PlaneHistogram {
  checkAxis(spec.x)
  checkAxis(spec.y)
  return { spec, counts: new Float64Array(spec.x.bins * spec.y.bins + 1) }
}

/** Counts points, in place. Throws RangeError for NaN and for columns of different length. */
export function countPoints({ spec, counts }: PlaneHistogram, x: ArrayLike<number>, y: ArrayLike<number>): void {
  if (x.length !== y.length) throw new RangeError('the columns of a cloud must have one length')
  const xScale = spec.x.bins / (spec.x.max - spec.x.min)
  const yScale = spec.y.bins / (spec.y.max - spec.y.min)
  const outside = counts.length - 1
  for (let i = 0; i < x.length; i++) {
    const column = Math.floor((x[i]! - spec.x.min) * xScale)
    const row = Math.floor((y[i]! - spec.y.min) * yScale)
    if (Number.isNaN(column) || Number.isNaN(row)) throw new RangeError('NaN can not be counted')
    const inside = column >= 0 && column < spec.x.bins && row >= 0 && row < spec.y.bins
    counts[inside ? column * spec.y.bins + row : outside]! += 1
  }
}

/** A new histogram with the counts of both. Throws RangeError where the bins differ. */
export function mergedPlanes(a: PlaneHistogram, b: PlaneHistogram): PlaneHistogram {
  if (!sameAxis(a.spec.x, b.spec.x) || !sameAxis(a.spec.y, b.spec.y))
    throw new RangeError('histograms of different bins')
  return { spec: a.spec, counts: sumOf(a.counts, b.counts) }
}

/** How many points fell outside all bins. */
export const pointsOutside = ({ counts }: PlaneHistogram): number => counts[counts.length - 1]!

/** The centers of the bins that have counts, with the counts as weights; points outside are not in it. */
export function cloudOf({ spec, counts }: PlaneHistogram): Required<Cloud> {
  let filled = 0
  for (let i = 0; i < counts.length - 1; i++) if (counts[i]! > 0) filled++
  const x = new Float64Array(filled)
  const y = new Float64Array(filled)
  const weights = new Float64Array(filled)
  for (let i = 0, at = 0; at < filled; i++) {
    if (!(counts[i]! > 0)) continue
    x[at] = center(spec.x, Math.floor(i / spec.y.bins))
    y[at] = center(spec.y, i % spec.y.bins)
    weights[at++] = counts[i]!
  }
  return { x, y, weights }
}

const center = ({ min, max, bins }: AxisSpec, i: number): number => min + ((i + 0.5) * (max - min)) / bins

const sameAxis = (a: AxisSpec, b: AxisSpec): boolean => a.min === b.min && a.max === b.max && a.bins === b.bins

const sumOf = (a: Float64Array<ArrayBuffer>, b: Float64Array): Float64Array<ArrayBuffer> =>
  a.map((count, i) => count + b[i]!)

function checkAxis({ min, max, bins }: AxisSpec): void {
  if (bins >= 1 && Math.floor(bins) === bins && max - min > 0 && max - min < Number.POSITIVE_INFINITY) return
  throw new RangeError(`${bins} bins from ${min} to ${max} can not be made`)
}

function nothingCounted(): Result<never, NumericsCode> {
  return refuse('numerics/nothing-counted', {
    found: 'no values',
    needed: 'at least one counted value',
    remedy: 'count values before asking for their quantile'
  })
}

function beyondLastBin(max: number, p: number): Result<never, NumericsCode> {
  return refuse('numerics/beyond-last-bin', {
    found: `a share ${p} that is reached at or beyond ${max} only`,
    needed: 'a quantile inside the bins',
    remedy: 'widen the range of the bins, or take the noise as beyond its limit'
  })
}
