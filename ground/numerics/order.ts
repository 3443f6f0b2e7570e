import { bracketKernel, selectKernel, sizeBracketKernel } from './order.kernel.ts'
import { workColumn } from './spare-columns.ts'

/** Makes the median comparable with a standard deviation for normal data: 1 / normalQuantile(3/4). */
export const NORMAL_MAD = 1.482602218505602

/**
 * The p-quantile of `values` with linear interpolation between order statistics (type 7, as numpy.quantile); `values` may
 * be reordered. Throws RangeError for no values, NaN among them, or p outside [0, 1]. source: hyndman-fan-1996
 */
export function quantileInPlace(values: Float64Array, p: number): number {
  if (values.length === 0) throw new RangeError('a quantile of no values')
  if (!(p >= 0 && p <= 1)) throw new RangeError(`a quantile needs a share from 0 to 1, not ${p}`)
  const place = (values.length - 1) * p
  return selected(around(values, Math.floor(place)), place - Math.floor(place))
}

/** A column and the place in it, when sorted, of the value that is sought. */
interface Sought {
  readonly column: Float64Array
  readonly k: number
}

/** The value sought, or one a share of the way to the next larger one. */
function selected({ column, k }: Sought, share: number): number {
  selectKernel(column, k)
  const found = column[k]!
  return share === 0 ? found : between(found, smallestFrom(column, k + 1), share)
}

const LONG = 1024
const SAMPLE = 256
/** Three standard deviations of the rank of a median in the sample: rarely too narrow, and then only slower. */
const MARGIN = 24
/** Work columns that are kept: what is in them means nothing between calls. */
const sample = new Float64Array(SAMPLE)
let kept = new Float64Array(LONG)
const LONGEST_KEPT = 65536

/**
 * Of a long column only the values between two of a sample, which place k (and the next) very likely is among: the same
 * answer in less than half the time. source: floyd-rivest-1975
 */
function around(values: Float64Array, k: number): Sought {
  const length = values.length
  const stride = length / SAMPLE
  if (length >= LONG) {
    for (let i = 0; i < SAMPLE; i++) sample[i] = values[Math.floor((i + 0.5) * stride)]!
    const band = bandFor(length)
    const near = among(bracketKernel(values, bracketOf(k / length), band), { band, length, k })
    if (near !== undefined) return near
  } else if (hasNaN(values)) throw notNumbers()
  return { column: values, k }
}

function bandFor(length: number): Float64Array {
  const band = length <= kept.length ? kept : new Float64Array(length)
  if (length <= LONGEST_KEPT) kept = band
  return band
}

/** The two values of the sample between which the share of a column very likely lies. */
function bracketOf(share: number): readonly [number, number] {
  const low = inSample(Math.floor(share * SAMPLE - MARGIN), Number.NEGATIVE_INFINITY)
  return [low, inSample(Math.ceil(share * SAMPLE + MARGIN), Number.POSITIVE_INFINITY)]
}

function inSample(k: number, beyond: number): number {
  if (k < 0 || k >= SAMPLE) return beyond
  selectKernel(sample, k)
  return sample[k]!
}

/** Where place k is in the band; undefined where it or the next one is not. Throws RangeError where NaN was met. */
function among(
  { below, inside, above }: { readonly below: number; readonly inside: number; readonly above: number },
  { band, length, k }: { readonly band: Float64Array; readonly length: number; readonly k: number }
): Sought | undefined {
  if (below + inside + above < length) throw notNumbers()
  return k >= below && k + 1 < below + inside ? { column: band.subarray(0, inside), k: k - below } : undefined
}

const notNumbers = () => new RangeError('a quantile of values that are not all numbers')

function hasNaN(values: Float64Array): boolean {
  for (let i = 0; i < values.length; i++) if (Number.isNaN(values[i])) return true
  return false
}

/** Two columns of one length, read as sizes |p x + q y|. */
export interface Sizes {
  readonly x: Float64Array
  readonly y: Float64Array
  readonly p: number
  readonly q: number
}

/**
 * `medianInPlace` of sizes, to the bit: a long column of them is never written out. A guess of it spares the sample, and
 * changes nothing else: where it is more than a tenth off the sample is taken after all.
 */
export function medianSize(sizes: Sizes, guess?: number): number {
  const { length } = sizes.x
  const near = length < LONG ? undefined : (nearGuess(sizes, guess) ?? nearSample(sizes))
  if (near !== undefined) return selected(near, 0.5 * (length - 1) - middleOf(length))
  const all = allColumn(length)
  sizesInto(all, sizes)
  return medianInPlace(all)
}

const allColumn = workColumn()

const middleOf = (length: number): number => Math.floor(0.5 * (length - 1))

function nearGuess(sizes: Sizes, guess: number | undefined): Sought | undefined {
  return guess !== undefined && guess > 0 ? inBracket(sizes, [0.9 * guess, 1.1 * guess]) : undefined
}

function nearSample(sizes: Sizes): Sought | undefined {
  const { length } = sizes.x
  sizesInto(sample, sizes)
  return inBracket(sizes, bracketOf(middleOf(length) / length))
}

function inBracket(sizes: Sizes, limits: readonly [number, number]): Sought | undefined {
  const { length } = sizes.x
  const band = bandFor(length)
  return among(sizeBracketKernel(sizes, limits, band), { band, length, k: middleOf(length) })
}

/** As many sizes as `out` has room for, evenly over the columns. */
function sizesInto(out: Float64Array, { x, y, p, q }: Sizes): void {
  const stride = x.length / out.length
  for (let i = 0; i < out.length; i++) {
    const at = Math.floor((i + 0.5) * stride)
    out[i] = Math.abs(p * x[at]! + q * y[at]!)
  }
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
