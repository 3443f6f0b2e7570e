import { PI } from '@trueloop/ground/numerics'
import { isRefusal } from '@trueloop/ground/refusal'
import { folded, smoothStep } from '../bell.ts'
import type { Flaw, HoleScene } from '../scene.ts'
import { touchesFace } from '../shapes.ts'
import type { Term } from '../term.ts'
import { lookUp } from './look-up.kernel.ts'
import { fieldUnit, inUnits } from './pair.ts'
import type { FieldFlaw, FieldProbe } from './probe.ts'
import { type TableShelf, tableOf } from './tables.ts'

/** Flaws of a scene as the field has them; nothing where the probe is given by its law alone. */
export function fieldTerms(scene: HoleScene, shelf: TableShelf): readonly Term[] {
  const { field } = scene.probe
  if (field === undefined) return []
  return scene.flaws.map((flaw) => fieldTerm(scene, flaw, { field, shelf }))
}

/** The model's flaw for one of a scene. */
export const fieldFlawOf = (scene: HoleScene, flaw: Flaw): FieldFlaw => ({
  outline: touchesFace(scene, flaw) || flaw.corner !== undefined ? 'quarter ellipse' : 'half ellipse',
  depth_m: flaw.depth_m,
  length_m: flaw.length_m
})

interface From {
  readonly field: FieldProbe
  readonly shelf: TableShelf
}

/** Throws RangeError where the field has no answer: `scenesReady` says so before, as a refusal. */
function fieldTerm(scene: HoleScene, flaw: Flaw, { field, shelf }: From): Term {
  const diameter_m = scene.hole.diameter_m
  const unit = fieldUnit(field, diameter_m, shelf)
  const table = tableOf(shelf, { probe: field, diameter_m, flaw: fieldFlawOf(scene, flaw) })
  if (isRefusal(unit)) throw new RangeError(unit.found)
  if (isRefusal(table)) throw new RangeError(table.found)
  const { c, s } = inUnits({ ...unit, turn_rad: unit.turn_rad + (scene.probe.flawTurn_rad ?? 0) })
  const factor = (flaw.kind === 'crack' ? scene.probe.flaw.crack_factor : 1) * (flaw.scatter ?? 1)
  const middle = 0.5 * (flaw.z0_m + flaw.z1_m)
  const mirror = deepestAtEnd(scene, flaw) ? -1 : 1
  const { corner } = flaw
  const value = { re: 0, im: 0 }
  return ({ wall, z }, sum) => {
    const around = PI * diameter_m * folded(wall - flaw.angle_turn)
    lookUp(table, around, mirror * (z - middle), value)
    if (value.re === 0 && value.im === 0) return
    const seen = corner === undefined ? 1 : smoothStep((corner.side * (z - corner.z_m)) / corner.width_m)
    const size = scene.motion.sense * factor * seen
    sum.x += size * (c * value.re - s * value.im)
    sum.y += size * (s * value.re + c * value.im)
  }
}

/** Corner flaws are deepest at the face that they touch: at their end, where that face lies deeper in the hole. */
function deepestAtEnd(scene: HoleScene, { z0_m, z1_m, corner }: Flaw): boolean {
  if (corner !== undefined) return Math.abs(corner.z_m - z1_m) < Math.abs(corner.z_m - z0_m)
  return touchesFace(scene, { z0_m: z1_m, z1_m }) && !touchesFace(scene, { z0_m, z1_m: z0_m })
}
