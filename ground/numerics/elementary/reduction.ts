import { binaryExponent, sumError, twoTo } from './exact.ts'

// Constants: reference/coefficients.py.
const TWO_OVER_PI = 0.6366197723675814
/** pi/2 in three parts of 33 bits and a rest: products with 20-bit integers are exact. */
const PART_1 = 1.5707963267341256
const PART_2 = 6.077100506303966e-11
const PART_3 = 2.0222662487111665e-21
const PART_4 = 8.4784276603689e-32
const MEDIUM = 1_000_000

const FRACTION_BITS = 1184
/** floor(2/pi * 2^1184) */
const TWO_OVER_PI_BITS = BigInt(
  '0xa2f9836e4e441529fc2757d1f534ddc0db6295993c439041fe5163abdebbc561b7246e3a424dd2e006492eea09d1921cfe1deb1cb129a73ee' +
    '88235f52ebb4484e99c7026b45f7e413991d639835339f49c845f8bbdf9283b1ff897ffde05980fef2f118b5a0a6d1f6d367ecf27cb09b74f46' +
    '3f669e5fea2d7527bac7ebe5f17b3d0739f78a5292ea6bfb5fb11f8d5d0856033046'
)
/** round(pi/2 * 2^128) */
const HALF_PI_BITS = BigInt('0x1921fb54442d18469898cc51701b839a2')
const KEPT_BITS = 192n

/** x = quadrant * pi/2 + hi + lo (modulo 2 pi), |hi| <= pi/4 but for rounding. */
export interface Reduced {
  readonly quadrant: number
  readonly hi: number
  readonly lo: number
}

/** Argument reduction of the circular functions for any finite x with |x| > pi/4. */
export function reduced(x: number): Reduced {
  if (Math.abs(x) < MEDIUM) return reducedByParts(x)
  const r = reducedByBits(Math.abs(x))
  return x > 0 ? r : { quadrant: -r.quadrant & 3, hi: -r.hi, lo: -r.lo }
}

/** Subtracts n * pi/2 in parts, each product exact. source: cody-waite-1980 */
function reducedByParts(x: number): Reduced {
  const n = Math.round(x * TWO_OVER_PI)
  const a = x - n * PART_1
  const b = a - n * PART_2
  const c = b - n * PART_3
  const rest = sumError(a, -n * PART_2, b) + sumError(b, -n * PART_3, c) - n * PART_4
  const hi = c + rest
  return { quadrant: n & 3, hi, lo: c - hi + rest }
}

/** Multiplies the integer significand by enough bits of 2/pi; exact integers throughout. source: payne-hanek-1983 */
function reducedByBits(x: number): Reduced {
  const e = binaryExponent(x) - 52
  const point = BigInt(FRACTION_BITS - e)
  const product = BigInt(x * twoTo(-e)) * TWO_OVER_PI_BITS
  const turns = product >> point
  const fraction = (product - (turns << point)) >> (point - KEPT_BITS)
  const up = fraction >> (KEPT_BITS - 1n)
  const radians = ((fraction - (up << KEPT_BITS)) * HALF_PI_BITS) >> 128n
  const hi = Number(radians)
  const unit = twoTo(-Number(KEPT_BITS))
  return { quadrant: Number((turns + up) & 3n), hi: hi * unit, lo: Number(radians - BigInt(hi)) * unit }
}
