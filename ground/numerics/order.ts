import { bracketKernel, selectKernel } from './order.kernel.ts'

/** Makes the median comparable with a standard deviation for normal data: 1 / normalQuantile(3/4). */
export const NORMAL_MAD = 1.482602218505602

/**
 * The p-quantile of `values` with linear interpolation between order statistics (type 7, as numpy.quantile); `values` may
 * be reordered. Throws RangeError for no values, NaN among them, or p outside [0, 1]. source: hyndman-fan-1996
 */
export function quantileInPlace(values: Float64Array, p: number): number {
  if (values.length === 0) throw new RangeError('a quantile of no values')
  if (!(p >= 0 && p <= 1)) throw new RangeError(`a quantile needs a share from 0 to 1, not ${p}`)
  if (hasNaN(values)) throw new RangeError('a quantile of values that are not all numbers')
  const place = (values.length - 1) * p
  const k = Math.floor(place)
  const near = around(values, k)
  selectKernel(near.column, near.k)
  const found = near.column[near.k]!
  return k === place ? found : between(found, smallestFrom(near.column, near.k + 1), place - k)
}

/** A column and the place in it, when sorted, of the value that is sought. */
interface Sought {
  readonly column: Float64Array
  readonly k: number
}

const LONG = 1024
const SAMPLE = 256
/** Three standard deviations of the rank of a median in the sample: rarely too narrow, and then only slower. */
const MARGIN = 24
/** A work column that is kept: what is in it means nothing between calls. */
let kept = new Float64Array(LONG)
const LONGEST_KEPT = 65536

/**
 * Of a long column only the values between two of a sample, which place k (and the next) very likely is among: the same
 * answer in less than half the time. source: floyd-rivest-1975
 */
function around(values: Float64Array, k: number): Sought {
  const length = values.length
  if (length < LONG) return { column: values, k }
  const band = length <= kept.length ? kept : new Float64Array(length)
  if (length <= LONGEST_KEPT) kept = band
  const { below, inside } = bracketKernel(values, bracketOf(values, k / length), band)
  const isAmong = k >= below && k + 1 < below + inside
  return isAmong ? { column: band.subarray(0, inside), k: k - below } : { column: values, k }
}

function bracketOf(values: Float64Array, share: number): readonly [number, number] {
  const sample = Float64Array.from(
    { length: SAMPLE },
    (_, i) => values[Math.floor(((i + 0.5) * values.length) / SAMPLE)]!
  )
  sample.sort()
  const [first, last] = [Math.floor(share * SAMPLE - MARGIN), Math.ceil(share * SAMPLE + MARGIN)]
  return [first < 0 ? Number.NEGATIVE_INFINITY : sample[first]!, sample[last] ?? Number.POSITIVE_INFINITY]
}

function hasNaN(values: Float64Array): boolean {
  for (let i = 0; i < values.length; i++) if (Number.isNaN(values[i])) return true
  return false
}

/** From the nearer end, as NumPy does, so that t = 0 and t = 1 are exact. */
function between(a: number, b: number, t: number): number {
  return t < 0.5 ? a + (b - a) * t : b - (b - a) * (1 - t)
}

function smallestFrom(values: Float64Array, first: number): number {
  let smallest = values[first]!
  for (let i = first + 1; i < values.length; i++) if (values[i]! < smallest) smallest = values[i]!
  return smallest
}

/** `quantileInPlace` on a copy. */
export const quantile = (values: ArrayLike<number>, p: number): number => quantileInPlace(Float64Array.from(values), p)

export const medianInPlace = (values: Float64Array): number => quantileInPlace(values, 0.5)

export const median = (values: ArrayLike<number>): number => quantile(values, 0.5)

export interface Spread {
  readonly median: number
  /** Median absolute deviation from the median, as it is. */
  readonly deviation: number
  /** The deviation times 1.4826…: estimates the standard deviation of normal data. */
  readonly sigma: number
}

/** Median and median absolute deviation; half of the values may be arbitrary. source: hampel-1974 */
export function spread(values: ArrayLike<number>): Spread {
  const scratch = Float64Array.from(values)
  const center = medianInPlace(scratch)
  for (let i = 0; i < scratch.length; i++) scratch[i] = Math.abs(scratch[i]! - center)
  const deviation = medianInPlace(scratch)
  return { median: center, deviation, sigma: deviation * NORMAL_MAD }
}
