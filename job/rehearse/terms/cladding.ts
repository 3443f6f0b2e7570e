import { axialProfile } from '../bell.ts'
import type { Cladding, HoleScene } from '../scene.ts'
import { along, type Term } from '../term.ts'

/** All around: a balanced pair sees nothing of it. */
export function claddingTerm(scene: HoleScene, cladding: Cladding): Term {
  const profile = axialProfile(cladding, scene.probe.footprint_m)
  return along(cladding.direction_rad, ({ z }) => cladding.size * profile(z))
}
