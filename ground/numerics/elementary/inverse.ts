import { isSignNegative, productError, sumError, twoTo } from './exact.ts'

// Table: reference/coefficients.py.
/** atan(i/16), high and low parts. */
const ATAN_HIGH = Float64Array.of(
  ...[0, 0.06241880999595735, 0.12435499454676144, 0.18534794999569476, 0.24497866312686414, 0.3028848683749714],
  ...[0.35877067027057225, 0.4124104415973873, 0.4636476090008061, 0.5123894603107377, 0.5585993153435624],
  ...[0.6022873461349642, 0.6435011087932844, 0.6823165548747481, 0.7188299996216245, 0.7531512809621944],
  0.7853981633974483
)
const ATAN_LOW = Float64Array.of(
  ...[0, -1.5490756308295046e-18, -3.1253241424539383e-18, 4.180692268843079e-18, 1.0698755618734451e-17],
  ...[-1.1010827903001369e-17, -2.4623815582638635e-17, -1.587652227770689e-17, 2.2698777452961687e-17],
  ...[-2.5462781472855804e-17, -5.4556305485916264e-18, 2.950430737228402e-17, 1.5834785051444286e-17],
  ...[6.943223671560008e-18, -2.1478388444456983e-17, -2.4256934659182068e-17, 3.061616997868383e-17]
)
// biome-ignore lint/suspicious/noApproximativeNumericConstant: bits of our own, not the engine's
const PI_HIGH = 3.141592653589793
const PI_LOW = 1.2246467991473532e-16

/** atan(u) - u for |u| <= 1/31 by its power series. */
function atanRest(u: number): number {
  const z = u * u
  return u * z * (-1 / 3 + z * (1 / 5 - z * (1 / 7 - z * (1 / 9 - z * (1 / 11 - z * (1 / 13))))))
}

/** `turns` half pi plus sign times atan((y + yLow) / (x + xLow)), for 0 <= y <= x, both well inside the range. */
interface Slope {
  readonly y: number
  readonly yLow: number
  readonly x: number
  readonly xLow: number
}

/**
 * Table of atan(i/16) and the addition theorem: atan(t) = atan(c) + atan((y - c x) / (x + c y)).
 * source: muller-2016 (table-based reduction)
 */
function atanOfSlope(slope: Slope, halfPis: number, sign: number): number {
  const { y, yLow, x, xLow } = slope
  const i = Math.round((16 * y) / x)
  const c = i * 0.0625
  const cx = c * x
  const top = y - cx
  const topLow = sumError(y, -cx, top) - productError(c, x, cx) + (yLow - c * xLow)
  const cy = c * y
  const bottom = x + cy
  const bottomLow = sumError(x, cy, bottom) + productError(c, y, cy) + (xLow + c * yLow)
  const u = top / bottom
  const p = u * bottom
  const uLow = (top - p - productError(u, bottom, p) + topLow - u * bottomLow) / bottom
  const base = halfPis * (0.5 * PI_HIGH)
  const a = base + sign * ATAN_HIGH[i]!
  const b = a + sign * u
  const aError = sumError(base, sign * ATAN_HIGH[i]!, a) + halfPis * (0.5 * PI_LOW) + sign * ATAN_LOW[i]!
  return b + (sumError(a, sign * u, b) + aError + sign * (uLow + atanRest(u)))
}

const swapped = (s: Slope): Slope => ({ y: s.x, yLow: s.xLow, x: s.y, xLow: s.yLow })

/** Angle of the first-quadrant direction (x, y), mirrored to the second one where `left`. */
function angleOf(slope: Slope, left: boolean): number {
  if (slope.y > slope.x) return atanOfSlope(swapped(slope), 1, left ? 1 : -1)
  return atanOfSlope(slope, left ? 2 : 0, left ? -1 : 1)
}

const withSignOf = (size: number, like: number): number => (isSignNegative(like) ? -size : size)

/** Arc tangent in radians, in [-pi/2, pi/2]; keeps -0. Below 1 unit in the last place. */
export function atan(x: number): number {
  if (Number.isNaN(x) || Math.abs(x) < 1e-9) return x
  const size = Math.abs(x)
  if (size > 1e18) return withSignOf(0.5 * PI_HIGH, x)
  return withSignOf(angleOf({ y: size, yLow: 0, x: 1, xLow: 0 }, false), x)
}

/**
 * Angle of the point (x, y) in radians, in [-pi, pi]; zeros and infinities as ECMAScript defines for its atan2.
 * Below 1 unit in the last place.
 */
export function atan2(y: number, x: number): number {
  if (Number.isNaN(x) || Number.isNaN(y)) return Number.NaN
  const high = Math.abs(y)
  const wide = Math.abs(x)
  if (high === 0 || wide === 0 || high - high !== 0 || wide - wide !== 0) return withSignOf(atEdge(high, x), y)
  return withSignOf(scaledAngle(high, wide, x < 0), y)
}

/** Quadrant answers where a coordinate is zero or infinite. */
function atEdge(high: number, x: number): number {
  const wide = Math.abs(x)
  const left = isSignNegative(x)
  if (high === wide && high > 0) return (left ? 1.5 : 0.5) * (0.5 * PI_HIGH)
  if (high === 0 || wide === Number.POSITIVE_INFINITY) return left ? PI_HIGH : 0
  return 0.5 * PI_HIGH
}

/** Brings the larger coordinate to about 1 so that no product over- or underflows. */
function scaledAngle(high: number, wide: number, left: boolean): number {
  const large = Math.max(high, wide)
  const ratio = Math.min(high, wide) / large
  if (ratio < 1e-18) return beyondRatio(high, wide, left)
  const up = large > 1e150 ? twoTo(-600) : large < 1e-150 ? twoTo(600) : 1
  return angleOf({ y: high * up, yLow: 0, x: wide * up, xLow: 0 }, left)
}

function beyondRatio(high: number, wide: number, left: boolean): number {
  if (high > wide) return 0.5 * PI_HIGH
  return left ? PI_HIGH : high / wide
}

/** sqrt(1 - s^2) as high and low part, for 0 < s < 1. */
function complement(s: number): { readonly hi: number; readonly lo: number } {
  const p = s * s
  const q = 1 - p
  const qLow = sumError(1, -p, q) - productError(s, s, p)
  const w = q + qLow
  const hi = Math.sqrt(w)
  const square = hi * hi
  return { hi, lo: (w - square - productError(hi, hi, square) + (q - w + qLow)) / (2 * hi) }
}

/** Arc sine in radians, in [-pi/2, pi/2]; NaN outside [-1, 1]; keeps -0. Below 1 unit in the last place. */
export function asin(x: number): number {
  const size = Math.abs(x)
  if (size < 1e-9) return x
  if (!(size < 1)) return size === 1 ? withSignOf(0.5 * PI_HIGH, x) : Number.NaN
  const c = complement(size)
  return withSignOf(angleOf({ y: size, yLow: 0, x: c.hi, xLow: c.lo }, false), x)
}

/** Arc cosine in radians, in [0, pi]; NaN outside [-1, 1]. Below 1 unit in the last place. */
export function acos(x: number): number {
  const size = Math.abs(x)
  if (size < 1e-18) return 0.5 * PI_HIGH
  if (!(size < 1)) return size === 1 ? (x > 0 ? 0 : PI_HIGH) : Number.NaN
  const c = complement(size)
  return angleOf({ y: c.hi, yLow: c.lo, x: size, xLow: 0 }, x < 0)
}
