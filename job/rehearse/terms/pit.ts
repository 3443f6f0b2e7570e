import { PI } from '@trueloop/ground/numerics'
import { halfDistance, UNIT_BELL } from '../bell.ts'
import type { HoleScene, Pit } from '../scene.ts'
import { angularBell, axialAnswer } from '../shapes.ts'
import { along, type Term } from '../term.ts'

/** Two bells: its own, and a weaker one a quarter turn away in the plane and half a lobe aside, so that the loop opens. */
export function pitTerms(scene: HoleScene, pit: Pit): readonly Term[] {
  const profile = axialAnswer(scene, pit)
  const around = angularBell(scene, pit.width_m)
  const aside = halfDistance(scene.probe.lobe_spacing_m) / 2 / (PI * scene.hole.diameter_m)
  const bell = (height: number, angle: number, direction: number): Term =>
    along(direction, ({ wall, z }) => {
      const size = profile(z)
      return size === 0 ? 0 : height * UNIT_BELL * size * around(wall - angle)
    })
  return [
    bell(pit.size, pit.angle_turn, pit.direction_rad),
    bell(pit.size * pit.roundness, pit.angle_turn + aside, pit.direction_rad + PI / 2)
  ]
}
