import { type Covariance, robustCovariance } from './covariance.ts'

/** Elements of a sheet that lie on the wall, half open. */
export interface Stretch {
  readonly from: number
  readonly to: number
}

/** Every so many elements are taken, counted from the beginning of the wall: neighbors tell the same. */
const EVERY = 2
/** Elements from which on a hole tells its own noise. */
const LEAST = 512

export interface HoleNoise {
  readonly covariance: Covariance
  /** elements it was taken from; 0 where too few were on the wall */
  readonly points: number
}

/**
 * Noise of the sizes of a pass over its wall: robust, so that flaws over a small part of it hardly raise it. What is taken
 * hangs on where the wall begins, and not on where a revolution does.
 */
export function noiseOfHole(
  { x, y }: { readonly x: Float64Array; readonly y: Float64Array },
  { from, to }: Stretch
): HoleNoise {
  const points = Math.max(0, Math.floor((to - from) / EVERY))
  if (points < LEAST) return { covariance: { xx: 0, xy: 0, yy: 0 }, points: 0 }
  const some = { x: new Float64Array(points), y: new Float64Array(points) }
  for (let k = 0, i = from; k < points; k++, i += EVERY) {
    some.x[k] = x[i]!
    some.y[k] = y[i]!
  }
  return { covariance: robustCovariance(some.x, some.y), points }
}
