import { selectKernel } from './order.kernel.ts'

/** Makes the median comparable with a standard deviation for normal data: 1 / normalQuantile(3/4). */
const NORMAL_MAD = 1.482602218505602

/**
 * The p-quantile of `values` with linear interpolation between order statistics (type 7, as numpy.quantile), reordering
 * `values`. Throws RangeError for no values, NaN among them, or p outside [0, 1]. source: hyndman-fan-1996
 */
export function quantileInPlace(values: Float64Array, p: number): number {
  if (values.length === 0) throw new RangeError('a quantile of no values')
  if (!(p >= 0 && p <= 1)) throw new RangeError(`a quantile needs a share from 0 to 1, not ${p}`)
  if (hasNaN(values)) throw new RangeError('a quantile of values that are not all numbers')
  const place = (values.length - 1) * p
  const k = Math.floor(place)
  selectKernel(values, k)
  if (k === place) return values[k]!
  return between(values[k]!, smallestFrom(values, k + 1), place - k)
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
