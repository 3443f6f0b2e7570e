import { cos, PI, sin } from '@trueloop/ground/numerics'
import { type Covariance, type Point, whitened, whiteningOf } from './covariance.ts'
import type { Weighing } from './statistic.kernel.ts'

/** Directions in which flaws are looked for, rad, as lines between lift-off and lift-off reversed. */
export interface Cone {
  readonly from_rad: number
  readonly to_rad: number
}

/**
 * The cone of the notches' angles, `margin` wider on both sides, never nearer to lift-off than `least`.
 * @param phases angles of the notches as lines, rad, at least one
 */
export function coneOf(
  phases: readonly number[],
  { margin_rad, least_rad }: { readonly margin_rad: number; readonly least_rad: number }
): Cone {
  const from = phases.reduce((least, phase) => Math.min(least, phase), PI)
  const to = phases.reduce((most, phase) => Math.max(most, phase), 0)
  return {
    from_rad: Math.min(from, Math.max(least_rad, from - margin_rad)),
    to_rad: Math.max(to, Math.min(PI - least_rad, to + margin_rad))
  }
}

/** The same cone in the plane where the noise is round. */
export function weighingOf(noise: Covariance, { from_rad, to_rad }: Cone): Weighing {
  const w = whiteningOf(noise)
  return { ...w, from: unit(w, from_rad), to: unit(w, to_rad) }
}

function unit(w: ReturnType<typeof whiteningOf>, angle_rad: number): Point {
  const { x, y } = whitened(w, { x: cos(angle_rad), y: sin(angle_rad) })
  const size = Math.sqrt(x * x + y * y)
  return { x: x / size, y: y / size }
}
