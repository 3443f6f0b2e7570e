import { productError, scaled, twoTo } from './exact.ts'

// Constants and polynomial: reference/coefficients.py.
// biome-ignore lint/suspicious/noApproximativeNumericConstant: bits of our own, not the engine's
const INVERSE_LN2 = 1.4426950408889634
const LN2_HIGH = 0.6931471803691238 // 32 bits: a product with an exponent is exact
const LN2_LOW = 1.9082149292705877e-10
const OVERFLOW = 709.782712893384
const UNDERFLOW = -745.1332191019412

/** r^2/2 + r^3 P(r) = e^r - 1 - r on |r| <= 0.35, error below 2^-60. */
function beyondLinear(r: number): number {
  const high = 2.7557281528710364e-7 + r * (2.5101335854788522e-8 + r * 2.0911915299044694e-9)
  const middle = 1.9841269864364933e-4 + r * (2.4801587318080937e-5 + r * (2.7557266442353424e-6 + r * high))
  const p = 8.333333333329796e-3 + r * (1.3888888888886363e-3 + r * middle)
  return r * r * (0.5 + r * (0.16666666666666669 + r * (4.1666666666666664e-2 + r * p)))
}

/** exp(hi + lo) for |hi| < 800 and tiny lo: reduction by multiples of ln 2 in two parts. source: cody-waite-1980 */
export function expOfSum(hi: number, lo: number): number {
  const k = Math.round(hi * INVERSE_LN2)
  const a = hi - k * LN2_HIGH
  const b = lo - k * LN2_LOW
  const r = a + b
  const rest = a - r + b
  const one = 1 + r
  return scaled(one + (1 - one + r + (beyondLinear(r) + rest * one)), k)
}

/**
 * e^x. Below 1 unit in the last place over the whole range, subnormal results included.
 * source: cody-waite-1980, muller-2016
 */
export function exp(x: number): number {
  if (Number.isNaN(x)) return x
  if (x > OVERFLOW) return Number.POSITIVE_INFINITY
  if (x < UNDERFLOW) return 0
  return expOfSum(x, 0)
}

/** e^x - 1 without cancellation near 0; keeps -0. Below 1 unit in the last place. source: cody-waite-1980, muller-2016 */
export function expm1(x: number): number {
  if (Number.isNaN(x) || Math.abs(x) < 5e-17) return x
  if (x > 45) return exp(x) - 1
  if (x < -40) return -1
  const k = Math.round(x * INVERSE_LN2)
  const a = x - k * LN2_HIGH
  const b = -k * LN2_LOW
  const r = a + b
  const tail = beyondLinear(r) + (a - r + b) * (1 + r)
  if (k === 0) return r + tail
  return scaledMinusOne(r, tail, twoTo(k))
}

/** t (1 + r + tail) - 1 for a power of two t, the large terms added without error. */
function scaledMinusOne(r: number, tail: number, t: number): number {
  const a = t - 1
  const aLow = t > 1 ? t - a - 1 : -1 - a + t
  const b = t * r
  const s = a + b
  const back = s - a
  return s + (a - (s - back) + (b - back) + (aLow + t * tail))
}

/** exp(-x*x/2) with the square carried exactly: relative error does not grow with x. */
export function expOfMinusHalfSquare(x: number): number {
  const size = Math.abs(x)
  if (size > 39) return 0
  const square = size * size
  return expOfSum(-0.5 * square, -0.5 * productError(size, size, square))
}
