import { smoothStep, UNIT_BELL } from '../bell.ts'
import type { Flaw, HoleScene } from '../scene.ts'
import { angularBell, axialAnswer } from '../shapes.ts'
import { along, type Term } from '../term.ts'

/** Peak-to-peak of the balanced pair over a flaw far from every face. */
export function flawSize({ probe: { flaw: response } }: HoleScene, flaw: Flaw): number {
  const area = flaw.depth_m * flaw.length_m
  const size = (response.full * area) / (area + response.half_area_m2)
  return (flaw.kind === 'crack' ? response.crack_factor * size : size) * (flaw.scatter ?? 1)
}

export function flawTerm(scene: HoleScene, flaw: Flaw): Term {
  const height = flawSize(scene, flaw) * UNIT_BELL
  const profile = withCorner(axialAnswer(scene, flaw), flaw.corner)
  const around = angularBell(scene, 0)
  const { direction_rad, turn_rad_per_m } = scene.probe.flaw
  return along(direction_rad + turn_rad_per_m * flaw.depth_m, ({ wall, z }) => {
    const size = profile(z)
    return size === 0 ? 0 : height * size * around(wall - flaw.angle_turn)
  })
}

function withCorner(profile: (z: number) => number, corner: Flaw['corner']): (z: number) => number {
  if (corner === undefined) return profile
  const { z_m, width_m, side } = corner
  return (z) => profile(z) * smoothStep((side * (z - z_m)) / width_m)
}
