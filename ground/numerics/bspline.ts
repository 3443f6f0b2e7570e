import { PI, sin } from './elementary.ts'

/**
 * The centered cubic B-spline with knots at -2, -1, 0, 1, 2; integral 1, value 2/3 at 0, zero from |x| = 2 on.
 * source: schoenberg-1946
 */
export function cubicBSpline(x: number): number {
  const t = Math.abs(x)
  if (t < 1) return 2 / 3 - t * t * (1 - 0.5 * t)
  const rest = 2 - t
  return rest > 0 ? (rest * rest * rest) / 6 : Number.isNaN(x) ? x : 0
}

/** sin(pi f)/(pi f), exactly 0 at whole numbers except 1 at 0. */
export function sinc(f: number): number {
  if (f === 0) return 1
  const n = Math.round(f)
  const s = sin(PI * (f - n))
  return (n % 2 === 0 ? s : -s) / (PI * f) + 0
}

/** Fourier transform of `cubicBSpline` at f cycles per knot spacing: sinc(f)^4. source: schoenberg-1946 */
export function cubicBSplineSpectrum(f: number): number {
  const square = sinc(f) * sinc(f)
  return square * square
}
