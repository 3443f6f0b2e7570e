import { UNIT_BELL } from '../bell.ts'
import type { HoleScene, SplitLine } from '../scene.ts'
import { angularBell, axialAnswer } from '../shapes.ts'
import { along, type Term } from '../term.ts'

export function splitLineTerm(scene: HoleScene, line: SplitLine): Term {
  const profile = axialAnswer(scene, line)
  const around = angularBell(scene, 0)
  const height = line.size * UNIT_BELL
  return along(line.direction_rad, ({ wall, z }) => {
    const size = profile(z)
    return size === 0 ? 0 : height * size * around(wall - line.angle_turn)
  })
}
