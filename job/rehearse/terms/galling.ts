import type { Random } from '@trueloop/ground/numerics'
import { axialProfile } from '../bell.ts'
import type { Fretting, GalledPatch, HoleScene } from '../scene.ts'
import { angularBell, fieldOf } from '../shapes.ts'
import { along, type Term } from '../term.ts'

/** Torn or worn metal: a smooth random field within a patch, or within a band all around. */
export function grainTerm(scene: HoleScene, patch: GalledPatch | Fretting, random: Random): Term {
  const profile = axialProfile(patch, scene.probe.footprint_m)
  const isBand = patch.kind === 'fretting' && patch.width_m === 0
  const around = isBand ? () => 1 : angularBell(scene, patch.width_m)
  const grain = fieldOf(scene, { rms: patch.size / 2, length_m: patch.grain_m }, random)
  return along(patch.direction_rad, ({ wall, z }) => {
    const size = profile(z)
    return size === 0 ? 0 : size * around(wall - patch.angle_turn) * grain(wall, z)
  })
}
