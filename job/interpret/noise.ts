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

const NOTHING = new Uint8Array(0)
const NONE: HoleNoise = { covariance: { xx: 0, xy: 0, yy: 0 }, points: 0 }

/**
 * Noise of the sizes of a pass over its wall, without what already stands out (`taken`, 1 an element; where too little
 * is left, with it): robust, so that flaws over a small part of it hardly raise it. What is taken
 * hangs on where the wall begins, and not on where a revolution does.
 */
export function noiseOfHole(
  { x, y }: { readonly x: Float64Array; readonly y: Float64Array },
  { from, to }: Stretch,
  taken: Uint8Array = NOTHING
): HoleNoise {
  const room = Math.max(0, Math.floor((to - from) / EVERY))
  const some = { x: new Float64Array(room), y: new Float64Array(room) }
  let points = 0
  for (let k = 0, i = from; k < room; k++, i += EVERY) {
    if (taken[i] === 1) continue
    some.x[points] = x[i]!
    some.y[points++] = y[i]!
  }
  if (points < LEAST) return taken.length > 0 ? noiseOfHole({ x, y }, { from, to }) : NONE
  return { covariance: robustCovariance(some.x.subarray(0, points), some.y.subarray(0, points)), points }
}
