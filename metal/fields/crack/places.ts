import type { Refusal } from '@trueloop/ground/refusal'
import { type FieldsCode, refuse } from '../codes.ts'
import type { PlacedCoil } from '../layers/coil.ts'
import type { CoilPlace, CrackInPart } from './crack.ts'
import type { CrackPlan } from './plan.ts'

/** Beyond this many radii a coil sees nothing, and wave numbers get many. */
export const FARTHEST = 20

/** Refuses: fields/bad-place. */
export function placesComplaint(
  { grid }: CrackPlan,
  { coil }: PlacedCoil,
  places: readonly CoilPlace[]
): Refusal<FieldsCode> | undefined {
  const limit = FARTHEST * coil.outerRadius + 0.5 * grid.along * grid.width
  const isNear = ({ across, along }: CoilPlace) => Math.abs(across) <= limit && Math.abs(along) <= limit
  if (places.length === 0 || !places.every(isNear))
    return refuse('fields/bad-place', {
      found: places.length === 0 ? 'no place of the coil' : `a place farther than ${limit} m from the crack`,
      needed: `places within ${FARTHEST} outer radii of the coil`,
      remedy: 'give places in m from the middle of the crack'
    })
  return undefined
}

/** Refuses: fields/opening-off-plane. */
export function openingOffPlane({ crack }: CrackInPart, isOverPlane: boolean): Refusal<FieldsCode> | undefined {
  if (crack.opening === 0 || isOverPlane) return undefined
  return refuse('fields/opening-off-plane', {
    found: 'an open crack and a coil beside its plane',
    needed: 'a coil over the crack plane: of its exact field in a hole only what crosses that plane is in this model',
    remedy: 'set the opening to zero, move the coil along the crack, or let it stand on the unrolled wall'
  })
}
