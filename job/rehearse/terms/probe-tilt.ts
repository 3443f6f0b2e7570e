import { cos, TAU } from '@trueloop/ground/numerics'
import type { HoleScene } from '../scene.ts'
import { along, type Term } from '../term.ts'

/** One pick-up nearer, the other farther, once a turn: it does not cancel in the pair. */
export function probeTiltTerms({ probe: { tilt, liftoff } }: HoleScene): readonly Term[] {
  if (tilt === undefined || tilt.liftoff_m === 0) return []
  const height = liftoff.per_m * tilt.liftoff_m
  return [along(liftoff.direction_rad, ({ wall }) => height * cos(TAU * (wall - tilt.wall_turn)))]
}
