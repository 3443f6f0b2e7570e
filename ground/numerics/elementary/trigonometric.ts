import { productError } from './exact.ts'
import { reduced } from './reduction.ts'

// Polynomials: reference/coefficients.py.
const QUARTER_PI = 0.7853981633974483

/** sin(r + low) - r for |r| <= pi/4: r^3 P(r^2) plus the first order in low. */
function sinRest(r: number, low: number): number {
  const z = r * r
  const high =
    2.755731921933466e-6 + z * (-2.505210623088241e-8 + z * (1.6058531370931902e-10 + z * -7.586682497157688e-13))
  const p = -0.16666666666666666 + z * (8.333333333333331e-3 + z * (-1.984126984126506e-4 + z * high))
  return r * z * p + low * (1 - 0.5 * z)
}

/** cos(r + low) - (1 - r^2/2) for |r| <= pi/4: r^4 Q(r^2) plus the first order in low. */
function cosRest(r: number, low: number): number {
  const z = r * r
  const high =
    -2.755731922140032e-7 + z * (2.0876755790210228e-9 + z * (-1.147046074969686e-11 + z * 4.745863773282908e-14))
  const q = 4.1666666666666664e-2 + z * (-1.3888888888888887e-3 + z * (2.4801587301584642e-5 + z * high))
  return z * z * q - r * low
}

const sinKernel = (r: number, low: number): number => r + sinRest(r, low)

function cosKernel(r: number, low: number): number {
  const half = 0.5 * r * r
  const w = 1 - half
  return w + (1 - w - half + cosRest(r, low))
}

const isUnbounded = (x: number): boolean => x - x !== 0

/** Sine of x in radians, any finite x (reduction is exact enough up to the largest double); NaN for NaN and infinities, keeps -0. */
export function sin(x: number): number {
  if (Math.abs(x) <= QUARTER_PI) return x === 0 ? x : sinKernel(x, 0)
  if (isUnbounded(x)) return Number.NaN
  const r = reduced(x)
  const value = (r.quadrant & 1) === 0 ? sinKernel(r.hi, r.lo) : cosKernel(r.hi, r.lo)
  return (r.quadrant & 2) === 0 ? value : -value
}

/** Cosine of x in radians, any finite x; NaN for NaN and infinities. */
export function cos(x: number): number {
  if (Math.abs(x) <= QUARTER_PI) return cosKernel(x, 0)
  if (isUnbounded(x)) return Number.NaN
  const r = reduced(x)
  const value = (r.quadrant & 1) === 0 ? cosKernel(r.hi, r.lo) : sinKernel(r.hi, r.lo)
  return ((r.quadrant + 1) & 2) === 0 ? value : -value
}

export interface SinCos {
  readonly sin: number
  readonly cos: number
}

/** Both at once, equal to the bit to `sin(x)` and `cos(x)`, with one reduction. */
export function sincos(x: number): SinCos {
  if (Math.abs(x) <= QUARTER_PI) return { sin: sin(x), cos: cosKernel(x, 0) }
  if (isUnbounded(x)) return { sin: Number.NaN, cos: Number.NaN }
  const r = reduced(x)
  const s = sinKernel(r.hi, r.lo)
  const c = cosKernel(r.hi, r.lo)
  if (r.quadrant === 0) return { sin: s, cos: c }
  if (r.quadrant === 1) return { sin: c, cos: -s }
  return r.quadrant === 2 ? { sin: -s, cos: -c } : { sin: -c, cos: s }
}

/** Tangent of x in radians, any finite x; NaN for NaN and infinities, keeps -0. Quotient of sine and cosine carried as pairs. */
export function tan(x: number): number {
  if (Math.abs(x) < 1e-9) return x
  if (isUnbounded(x)) return Number.NaN
  if (Math.abs(x) <= QUARTER_PI) return tanKernel(x, 0, false)
  const r = reduced(x)
  return tanKernel(r.hi, r.lo, (r.quadrant & 1) === 1)
}

function tanKernel(r: number, low: number, cotangent: boolean): number {
  const sLow = sinRest(r, low)
  const s = r + sLow
  const sRest = r - s + sLow
  const square = r * r
  const w = 1 - 0.5 * square
  const cLow = 1 - w - 0.5 * square - 0.5 * productError(r, r, square) + cosRest(r, low)
  const c = w + cLow
  const cRest = w - c + cLow
  return cotangent ? -quotient(c, cRest, s, sRest) : quotient(s, sRest, c, cRest)
}

/** (a + aLow) / (b + bLow), the remainder of the first quotient divided again. */
function quotient(a: number, aLow: number, b: number, bLow: number): number {
  const q = a / b
  const p = q * b
  return q + (a - p - productError(q, b, p) + aLow - q * bLow) / b
}
