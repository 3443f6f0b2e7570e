import { cos, type Random, TAU } from '@trueloop/ground/numerics'
import { metalOf, weighed } from './metal.ts'
import type { HoleScene } from './scene.ts'
import { fieldOf } from './shapes.ts'
import { along, type Term } from './term.ts'
import { burrTerms, damageTerms } from './terms/damage.ts'
import { featureTerm } from './terms/feature.ts'
import { flawTerm } from './terms/flaw.ts'
import { jointTerms } from './terms/joint.ts'

/** What one pick-up sees of the wall: contributions that stay where they are, whatever the probe does. */

/** All contributions of the wall; `random` gives roughness, galling and fretting. */
export function wallTerms(scene: HoleScene, random: Random): readonly Term[] {
  const metal = metalOf(scene)
  const air = along(scene.probe.air.direction_rad, (at) => scene.probe.air.size * (1 - metal(at)))
  const inMetal = [
    liftoffTerm(scene, random),
    ...scene.joints.flatMap(jointTerms),
    ...(scene.probe.field === undefined ? scene.flaws.map((flaw) => flawTerm(scene, flaw)) : []),
    ...scene.damage.flatMap((one, k) => damageTerms(scene, one, random.fork(`patch ${k}`))),
    ...(scene.features ?? []).map((one) => featureTerm(scene, one))
  ]
  return [air, weighed(metal, inMetal), ...(scene.fault.kind === 'in air' ? [] : burrTerms(scene))]
}

function liftoffTerm(scene: HoleScene, random: Random): Term {
  const { eccentricity_m, eccentricity_turn, ovality_m, ovality_turn, roughness } = scene.wall
  const { per_m, direction_rad } = scene.probe.liftoff
  const rough = fieldOf(scene, { rms: roughness.rms_m, length_m: roughness.length_m }, random.fork('roughness'))
  return along(direction_rad, ({ wall, z }) => {
    const run = eccentricity_m * cos(TAU * (wall - eccentricity_turn))
    const oval = ovality_m * cos(2 * TAU * (wall - ovality_turn))
    return per_m * (run + oval + rough(wall, z))
  })
}
