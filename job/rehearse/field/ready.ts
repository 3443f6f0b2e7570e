import { isRefusal, type Refusal } from '@trueloop/ground/refusal'
import type { HoleScene } from '../scene.ts'
import { fieldUnit } from './pair.ts'
import { type TableShelf, tableOf } from './tables.ts'
import { fieldFlawOf } from './terms.ts'

/**
 * Makes every table that a scene asks for. Undefined where all are there; else the refusal of the first that the field has
 * no answer for: `generate` would throw.
 */
export function notReady(scene: HoleScene, shelf: TableShelf): Refusal | undefined {
  const { field } = scene.probe
  if (field === undefined) return undefined
  const diameter_m = scene.hole.diameter_m
  const unit = fieldUnit(field, diameter_m, shelf)
  if (isRefusal(unit)) return unit
  for (const flaw of scene.flaws) {
    const table = tableOf(shelf, { probe: field, diameter_m, flaw: fieldFlawOf(scene, flaw) })
    if (isRefusal(table)) return table
  }
  return undefined
}
