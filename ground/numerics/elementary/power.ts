import { binaryExponent, productError, sumError, twoTo } from './exact.ts'
import { expOfSum } from './exponential.ts'
import { logPair } from './logarithm.ts'

const isOddInteger = (y: number): boolean => Math.abs(y) < 9007199254740992 && y - 2 * Math.floor(y / 2) === 1
const isInteger = (y: number): boolean => Math.floor(y) === y

/** x^y for 0 < x < Infinity and finite y: exp(y log x) with the logarithm and the product carried as pairs. */
function positivePower(x: number, y: number): number {
  if (Math.abs(y) > 1e19) return farPower(x, y)
  const l = logPair(x)
  if (Math.abs(y) < 1e-200) return 1
  const p = y * l.hi
  if (p > 710) return Number.POSITIVE_INFINITY
  if (p < -746) return 0
  return expOfSum(p, productError(y, l.hi, p) + y * l.lo)
}

/** Exponents so large that every base but 1 leaves the range. */
function farPower(x: number, y: number): number {
  if (x === 1) return 1
  return x > 1 === y > 0 ? Number.POSITIVE_INFINITY : 0
}

/** x^y as ECMAScript defines it at zeros, infinities and NaN (so 1^NaN and (-1)^Infinity are NaN). Below 1 unit in the last place. */
export function pow(x: number, y: number): number {
  if (y === 0) return 1
  if (Number.isNaN(x) || Number.isNaN(y)) return Number.NaN
  if (y === 1) return x
  const size = Math.abs(x)
  if (Math.abs(y) === Number.POSITIVE_INFINITY) return size === 1 ? Number.NaN : farPower(size, y)
  const negative = (x < 0 || (x === 0 && 1 / x < 0)) && isOddInteger(y)
  if (size === 0 || size === Number.POSITIVE_INFINITY) {
    const value = (size === 0) === y > 0 ? 0 : Number.POSITIVE_INFINITY
    return negative ? -value : value
  }
  if (x < 0 && !isInteger(y)) return Number.NaN
  return negative ? -positivePower(size, y) : positivePower(size, y)
}

/** Cube root, keeps the sign of zero. One Newton step with an exact residual after three in plain doubles. Below 1 unit in the last place. */
export function cbrt(x: number): number {
  if (x === 0 || x - x !== 0) return x
  const size = Math.abs(x)
  const lift = size < 1e-290 ? 60 : 0
  const y = size * twoTo(lift)
  const third = Math.floor(binaryExponent(y) / 3)
  const root = cubeRootNearOne(y * twoTo(-third * 3)) * twoTo(third) * twoTo(-lift / 3)
  return x < 0 ? -root : root
}

/** Cube root of m in [1, 8). */
function cubeRootNearOne(m: number): number {
  let t = 0.75 + m * (0.27 - m * 0.0143)
  for (let i = 0; i < 3; i++) t -= (t - m / (t * t)) / 3
  t -= (t - m / (t * t)) / 3
  const square = t * t
  const cube = square * t
  const cubeLow = productError(square, t, cube) + productError(t, t, square) * t
  return t - (cube - m + cubeLow) / (3 * square)
}

/**
 * sqrt(x^2 + y^2) without over- or underflow on the way; Infinity if either is infinite. The plain root is corrected by
 * its exactly computed residual. Below 1 unit in the last place. source: borges-2019
 */
export function hypot(x: number, y: number): number {
  const a = Math.max(Math.abs(x), Math.abs(y))
  if (Math.abs(x) === Number.POSITIVE_INFINITY || Math.abs(y) === Number.POSITIVE_INFINITY)
    return Number.POSITIVE_INFINITY
  const b = Math.min(Math.abs(x), Math.abs(y))
  if (Number.isNaN(a) || b < a * 1e-17) return a
  if (b === 0) return a
  if (a > 1e150) return correctedHypot(a * twoTo(-600), b * twoTo(-600)) * twoTo(600)
  if (b < 1e-140) return correctedHypot(a * twoTo(600), b * twoTo(600)) * twoTo(-600)
  return correctedHypot(a, b)
}

function correctedHypot(a: number, b: number): number {
  const aa = a * a
  const bb = b * b
  const sum = aa + bb
  const h = Math.sqrt(sum)
  const hh = h * h
  const low = sumError(aa, bb, sum) + productError(a, a, aa) + productError(b, b, bb)
  return h + (sum - hh - productError(h, h, hh) + low) / (2 * h)
}
