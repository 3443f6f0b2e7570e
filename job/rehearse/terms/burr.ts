import { PI } from '@trueloop/ground/numerics'
import { UNIT_BELL } from '../bell.ts'
import type { Burr, HoleScene } from '../scene.ts'
import { angularBell, axialAnswer } from '../shapes.ts'
import { along, type Term } from '../term.ts'

/** A narrow bell, and half as high a wide one beside it. It stands out of the face: air does not hide it. */
export function burrTerm(scene: HoleScene, burr: Burr): Term {
  const profile = axialAnswer(scene, burr)
  const edge = angularBell(scene, 0)
  const tail = angularBell(scene, burr.tail_m)
  const aside = burr.tail_m / (PI * scene.hole.diameter_m)
  const height = burr.size * UNIT_BELL
  return along(burr.direction_rad, ({ wall, z }) => {
    const size = profile(z)
    const angle = wall - burr.angle_turn
    return size === 0 ? 0 : height * size * (edge(angle) + 0.5 * tail(angle - aside))
  })
}
