import { workColumn } from '@trueloop/ground/numerics'
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

const NONE: HoleNoise = { covariance: { xx: 0, xy: 0, yy: 0 }, points: 0 }

interface Columns {
  readonly x: Float64Array
  readonly y: Float64Array
}

export interface Hearing {
  /** what already stands out, 1 an element */
  readonly taken?: Uint8Array | undefined
  /** noise that this one is expected to be near: to find it sooner, nothing else */
  readonly near?: Covariance | undefined
}

/**
 * Noise of the sizes of a pass over its wall, without what already stands out (where too little is left, with it): robust,
 * so that flaws over a small part of it hardly raise it. What is taken hangs on where the wall begins, and not on where a
 * revolution does.
 */
export function noiseOfHole(columns: Columns, wall: Stretch, { taken, near }: Hearing = {}): HoleNoise {
  const { x, y } = taken === undefined ? allOf(columns, wall) : leftOf(columns, wall, taken)
  const points = x.length
  if (points < LEAST) return taken === undefined ? NONE : noiseOfHole(columns, wall, { near })
  return { covariance: robustCovariance(x, y, near), points }
}

const [xColumn, yColumn] = [workColumn(), workColumn()]

const roomOf = ({ from, to }: Stretch): number => Math.max(0, Math.floor((to - from) / EVERY))

function allOf({ x, y }: Columns, wall: Stretch): Columns {
  const some = { x: xColumn(roomOf(wall)), y: yColumn(roomOf(wall)) }
  for (let k = 0, i = wall.from; k < some.x.length; k++, i += EVERY) {
    some.x[k] = x[i]!
    some.y[k] = y[i]!
  }
  return some
}

function leftOf({ x, y }: Columns, wall: Stretch, taken: Uint8Array): Columns {
  const room = roomOf(wall)
  const some = { x: xColumn(room), y: yColumn(room) }
  let points = 0
  for (let k = 0, i = wall.from; k < room; k++, i += EVERY) {
    if (taken[i] === 1) continue
    some.x[points] = x[i]!
    some.y[points++] = y[i]!
  }
  return { x: some.x.subarray(0, points), y: some.y.subarray(0, points) }
}
