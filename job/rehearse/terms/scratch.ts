import { UNIT_BELL } from '../bell.ts'
import type { HoleScene, Scratch } from '../scene.ts'
import { angularBell, axialAnswer } from '../shapes.ts'
import { along, type Term } from '../term.ts'

export function scratchTerm(scene: HoleScene, scratch: Scratch): Term {
  const profile = axialAnswer(scene, scratch)
  const around = angularBell(scene, scratch.width_m)
  const height = scratch.size * UNIT_BELL
  return along(scratch.direction_rad, ({ wall, z }) => {
    const size = profile(z)
    const angle = scratch.angle_turn + scratch.helix_turn_per_m * (z - scratch.z0_m)
    return size === 0 ? 0 : height * size * around(wall - angle)
  })
}
