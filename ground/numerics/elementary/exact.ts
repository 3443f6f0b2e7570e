/**
 * Error-free transformations and powers of two: what the elementary functions are made of.
 * Only + - * and reads of a double's bits, so every result is the same to the bit in every engine.
 */

const view = new DataView(new ArrayBuffer(8))

/** Unbiased binary exponent of a nonzero finite double; subnormals and zero give -1023. */
export function binaryExponent(x: number): number {
  view.setFloat64(0, x)
  return ((view.getUint16(0) >>> 4) & 0x7ff) - 1023
}

/** True for negative numbers and for -0. NaN gives an unspecified answer. */
export const isSignNegative = (x: number): boolean => x < 0 || (x === 0 && 1 / x < 0)

const LOWEST = -1074
const POWERS = powersOfTwo()

function powersOfTwo(): Float64Array {
  const table = new Float64Array(1024 - LOWEST)
  let value = Number.MIN_VALUE
  for (let i = 0; i < table.length; i++, value *= 2) table[i] = value
  return table
}

/** 2^k for -1074 <= k <= 1023, exact (subnormal below -1022). */
export const twoTo = (k: number): number => POWERS[k - LOWEST]!

/** x * 2^k for -1200 < k < 1100 and x near 1; one rounding, also where the result is subnormal. */
export function scaled(x: number, k: number): number {
  if (k > 1023) return x * twoTo(1023) * twoTo(k - 1023)
  if (k < LOWEST) return x * twoTo(k + 150) * twoTo(-150)
  return x * twoTo(k)
}

/** The rounding error of `sum = a + b` for any order of size: a + b = sum + result. source: knuth-1997 */
export function sumError(a: number, b: number, sum: number): number {
  const back = sum - a
  return a - (sum - back) + (b - back)
}

const SPLITTER = 134217729 // 2^27 + 1

/** The rounding error of `product = a * b`: a * b = product + result. |a|, |b| < 2^996, product not subnormal. source: dekker-1971 */
export function productError(a: number, b: number, product: number): number {
  const ta = SPLITTER * a
  const ah = ta - (ta - a)
  const al = a - ah
  const tb = SPLITTER * b
  const bh = tb - (tb - b)
  const bl = b - bh
  return al * bl - (product - ah * bh - al * bh - ah * bl)
}

/** An unevaluated sum: value = hi + lo with |lo| at most about half a unit in the last place of hi. */
export interface Pair {
  readonly hi: number
  readonly lo: number
}
