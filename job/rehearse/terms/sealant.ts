import { axialProfile } from '../bell.ts'
import type { HoleScene, Sealant } from '../scene.ts'
import { angularBell } from '../shapes.ts'
import { along, type Term } from '../term.ts'

export function sealantTerm(scene: HoleScene, sealant: Sealant): Term {
  const half = sealant.thickness_m / 2
  const extent = { z0_m: sealant.z_m - half, z1_m: sealant.z_m + half }
  const profile = axialProfile(extent, scene.probe.footprint_m)
  const around = angularBell(scene, sealant.width_m)
  return along(sealant.direction_rad, ({ wall, z }) => {
    const size = profile(z)
    return size === 0 ? 0 : sealant.size * size * around(wall - sealant.angle_turn)
  })
}
