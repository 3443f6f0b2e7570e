import { cubicBSpline, exp } from '@trueloop/ground/numerics'

/**
 * Shapes along the wall. Along the angle a pick-up sees through a Gaussian bell; along the axis through a cubic B-spline,
 * which ends (its integral is a polynomial), so that a flaw is nowhere but where it is.
 */

/** Positive root of p · tanh(p) = 1: with pick-ups at ±σ, the lobes of the difference of two bells of σ lie at ±p·σ. */
const LOBE = 1.1996786402577337

export const bell = (u: number): number => exp(-0.5 * u * u)

/** Peak of bell(u − 1) − bell(u + 1). */
const PEAK = bell(LOBE - 1) - bell(LOBE + 1)

/** Half the distance of the pick-ups, which is also the bell's σ, for lobes that lie `spacing` apart. */
export const halfDistance = (spacing: number): number => spacing / (2 * LOBE)

/** Height of each pick-up's bell for a peak-to-peak of 1 of the balanced pair. */
export const UNIT_BELL = 1 / (2 * PEAK)

/** Width of the cubic B-spline at half its height, in knots: 2k with k² (1 − k/2) = 1/3. */
const SPLINE_WIDTH = 1.4447034489287527

/** Integral of `cubicBSpline` from −∞ to x. */
export function splineIntegral(x: number): number {
  if (x <= -2) return 0
  if (x >= 2) return 1
  if (x > 0) return 1 - splineIntegral(-x)
  if (x < -1) {
    const rest = 2 + x
    return (rest * rest * rest * rest) / 24
  }
  return 0.5 + x * (2 / 3 - x * x * (1 / 3 + x / 8))
}

/** The extent [z0, z1] seen through a footprint of `width` at half height, largest value 1. */
export function axialProfile(extent: { readonly z0_m: number; readonly z1_m: number }, width: number) {
  const knot = width / SPLINE_WIDTH
  const half = (extent.z1_m - extent.z0_m) / 2
  const center = extent.z0_m + half
  const most = splineIntegral(half / knot) - splineIntegral(-half / knot)
  return (z: number): number => {
    const d = z - center
    if (Math.abs(d) >= half + 2 * knot) return 0
    return most === 0
      ? cubicBSpline(d / knot) * 1.5
      : (splineIntegral((d + half) / knot) - splineIntegral((d - half) / knot)) / most
  }
}

/** From 0 to 1 over −1/2 … 1/2, with two continuous derivatives. */
export function smoothStep(u: number): number {
  const x = Math.min(1, Math.max(0, u + 0.5))
  return x * x * x * (x * (6 * x - 15) + 10)
}

/** The part of a turn between −1/2 and 1/2: the short way around. */
export const folded = (turns: number): number => turns - Math.round(turns)
