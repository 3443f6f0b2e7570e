import { cos, PI, type Random, TAU } from '@trueloop/ground/numerics'
import { axialProfile, bell, folded, halfDistance, smoothStep, UNIT_BELL } from './bell.ts'
import { type Stretch, type WallField, wallField } from './lattice.ts'
import type { Face, Flaw, GalledPatch, HoleScene, Joint, Scratch } from './scene.ts'
import { along, type Place, type Term } from './term.ts'

/** What one pick-up sees of the wall: contributions that stay where they are, whatever the probe does. */

/** Share of metal under a pick-up, 0 in air to 1. */
export type Metal = (at: Place) => number

export function metalOf({ hole, fault }: HoleScene): Metal {
  if (fault.kind === 'in air') return () => 0
  const { entry, exit, grip_m } = hole
  return ({ wall, z }) =>
    smoothStep((z - faceAt(entry, wall)) / entry.width_m) * smoothStep((grip_m + faceAt(exit, wall) - z) / exit.width_m)
}

const faceAt = (face: Pick<Face, 'tilt_m' | 'tilt_turn'>, wall: number): number =>
  face.tilt_m === 0 ? 0 : face.tilt_m * cos(TAU * (wall - face.tilt_turn))

/** The depths over which a field on the wall has to reach, with room for its outer knots. */
export const reachOf = ({ hole }: HoleScene, knot: number): Stretch => {
  const tilt = Math.max(hole.entry.tilt_m, hole.exit.tilt_m)
  const margin = tilt + Math.max(hole.entry.width_m, hole.exit.width_m) + 3 * knot
  return { from: -margin, to: hole.grip_m + margin }
}

export const fieldOf = (scene: HoleScene, form: { rms: number; length_m: number }, random: Random): WallField =>
  wallField({ ...form, around_m: PI * scene.hole.diameter_m, along: reachOf(scene, form.length_m) }, random)

/** All contributions of the wall; `random` gives roughness and galling. */
export function wallTerms(scene: HoleScene, random: Random): readonly Term[] {
  const metal = metalOf(scene)
  const terms = [
    along(scene.probe.air.direction_rad, (at) => scene.probe.air.size * (1 - metal(at))),
    ...liftoffTerms(scene, random),
    ...scene.joints.flatMap(jointTerms),
    ...scene.flaws.map((flaw) => flawTerm(scene, flaw)),
    ...scene.damage.flatMap((one, k) =>
      one.kind === 'scratch'
        ? [scratchTerm(scene, one)]
        : one.kind === 'galled patch'
          ? [patchTerm(scene, one, random.fork(`patch ${k}`))]
          : []
    )
  ]
  const [air, ...inMetal] = terms
  return [air!, weighed(metal, inMetal)]
}

/** Terms that are there only as far as there is metal. */
export function weighed(metal: Metal, terms: readonly Term[]): Term {
  const part = { x: 0, y: 0 }
  return (at, sum) => {
    const share = metal(at)
    if (share === 0) return
    part.x = 0
    part.y = 0
    for (const term of terms) term(at, part)
    sum.x += share * part.x
    sum.y += share * part.y
  }
}

function liftoffTerms(scene: HoleScene, random: Random): readonly Term[] {
  const { eccentricity_m, eccentricity_turn, ovality_m, ovality_turn, roughness } = scene.wall
  const { per_m, direction_rad } = scene.probe.liftoff
  const rough = fieldOf(scene, { rms: roughness.rms_m, length_m: roughness.length_m }, random.fork('roughness'))
  return [
    along(direction_rad, ({ wall, z }) => {
      const run = eccentricity_m * cos(TAU * (wall - eccentricity_turn))
      const oval = ovality_m * cos(2 * TAU * (wall - ovality_turn))
      return per_m * (run + oval + rough(wall, z))
    })
  ]
}

function jointTerms(joint: Joint): readonly Term[] {
  const profile = axialProfile({ z0_m: 0, z1_m: 0 }, joint.width_m)
  const evenness = (wall: number): number => 1 + joint.uneven * cos(TAU * (wall - joint.tilt_turn))
  return [
    along(joint.direction_rad, ({ wall, z }) => {
      const size = profile(z - joint.z_m - faceAt(joint, wall))
      return size === 0 ? 0 : joint.size * evenness(wall) * size
    }),
    along(joint.step_direction_rad, ({ wall, z }) => {
      return joint.step * smoothStep((z - joint.z_m - faceAt(joint, wall)) / joint.width_m)
    })
  ]
}

/** Peak-to-peak of the balanced pair over a flaw far from every face. */
export function flawSize({ probe: { flaw: response } }: HoleScene, flaw: Flaw): number {
  const area = flaw.depth_m * flaw.length_m
  const size = (response.full * area) / (area + response.half_area_m2)
  return flaw.kind === 'crack' ? response.crack_factor * size : size
}

/** The bell of a pick-up along the angle, `widen_m` added in quadrature; (turns from its center) → value. */
export function angularBell({ hole, probe }: HoleScene, widen_m: number): (turns: number) => number {
  const h = halfDistance(probe.lobe_spacing_m)
  const arcs = (PI * hole.diameter_m) / Math.sqrt(h * h + widen_m * widen_m)
  return (turns) => bell(folded(turns) * arcs)
}

function flawTerm(scene: HoleScene, flaw: Flaw): Term {
  const height = flawSize(scene, flaw) * UNIT_BELL
  const profile = axialProfile(flaw, scene.probe.footprint_m)
  const around = angularBell(scene, 0)
  const { direction_rad, turn_rad_per_m } = scene.probe.flaw
  return along(direction_rad + turn_rad_per_m * flaw.depth_m, ({ wall, z }) => {
    const size = profile(z)
    return size === 0 ? 0 : height * size * around(wall - flaw.angle_turn)
  })
}

function scratchTerm(scene: HoleScene, scratch: Scratch): Term {
  const profile = axialProfile(scratch, scene.probe.footprint_m)
  const around = angularBell(scene, scratch.width_m)
  const height = scratch.size * UNIT_BELL
  return along(scratch.direction_rad, ({ wall, z }) => {
    const size = profile(z)
    const angle = scratch.angle_turn + scratch.helix_turn_per_m * (z - scratch.z0_m)
    return size === 0 ? 0 : height * size * around(wall - angle)
  })
}

function patchTerm(scene: HoleScene, patch: GalledPatch, random: Random): Term {
  const profile = axialProfile(patch, scene.probe.footprint_m)
  const around = angularBell(scene, patch.width_m)
  const grain = fieldOf(scene, { rms: patch.size / 2, length_m: patch.grain_m }, random)
  return along(patch.direction_rad, ({ wall, z }) => {
    const size = profile(z)
    return size === 0 ? 0 : size * around(wall - patch.angle_turn) * grain(wall, z)
  })
}
