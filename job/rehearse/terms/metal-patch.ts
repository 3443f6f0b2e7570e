import { axialProfile } from '../bell.ts'
import type { HoleScene, MetalPatch } from '../scene.ts'
import { angularBell } from '../shapes.ts'
import { along, type Term } from '../term.ts'

/** Heat, wear or cold work changed the metal here: slow in both directions, so that the pair sees its flanks. */
export function metalPatchTerm(scene: HoleScene, patch: MetalPatch): Term {
  const profile = axialProfile(patch, scene.probe.footprint_m + patch.width_m)
  const around = angularBell(scene, patch.width_m)
  return along(patch.direction_rad, ({ wall, z }) => {
    const size = profile(z)
    return size === 0 ? 0 : patch.size * size * around(wall - patch.angle_turn)
  })
}
