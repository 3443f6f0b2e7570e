import { cos, TAU } from '@trueloop/ground/numerics'
import { axialProfile, smoothStep } from '../bell.ts'
import type { Joint } from '../scene.ts'
import { faceAt } from '../shapes.ts'
import { along, type Term } from '../term.ts'

/** A bell along the axis all around, and a lasting step. */
export function jointTerms(joint: Joint): readonly Term[] {
  const profile = axialProfile({ z0_m: 0, z1_m: 0 }, joint.width_m)
  // twice the width is beyond the profile's end (1.38 widths)
  const far = Math.abs(joint.tilt_m) + 2 * joint.width_m
  const evenness = (wall: number): number => 1 + joint.uneven * cos(TAU * (wall - joint.tilt_turn))
  const bell = along(joint.direction_rad, ({ wall, z }) => {
    if (Math.abs(z - joint.z_m) > far) return 0
    const size = profile(z - joint.z_m - faceAt(joint, wall))
    return size === 0 ? 0 : joint.size * evenness(wall) * size
  })
  if (joint.step === 0) return [bell]
  const step = along(joint.step_direction_rad, ({ wall, z }) => {
    return joint.step * smoothStep((z - joint.z_m - faceAt(joint, wall)) / joint.width_m)
  })
  return [bell, step]
}
