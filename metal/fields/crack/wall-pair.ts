import { meters } from '@trueloop/ground/quantity'
import type { Result } from '@trueloop/ground/refusal'
import type { FieldsCode } from '../codes.ts'
import { delayComplaint } from '../frequency.ts'
import type { WallProbe } from '../hole/wall-probe.ts'
import { type PlacedCoil, placedComplaint } from '../layers/coil.ts'
import type { CoilPlace } from './crack.ts'
import { incidentField } from './incident.ts'
import { pairComplaint } from './pair-answer.ts'
import { type PickUpPair, pairField } from './pair-incident.ts'
import { FARTHEST } from './places.ts'
import type { CrackAnswer } from './response.ts'
import { crackChanges } from './solve.ts'
import { wallPairStatement } from './statement.ts'
import { halfLength, holeComplaint, roundOpeningComplaint, wallPlacesComplaint } from './wall-answer.ts'
import type { WallCrackPlan, WallPlace } from './wall-crack.ts'
import { wallField, wallTable } from './wall-incident.ts'

/** A differential probe that faces the wall of a hole. */
export interface WallPair {
  /**
   * Planned in the hole: its field there is exact. Given as over a plane: it stands on the unrolled wall, which is nearer to
   * a probe whose face is as round as the hole; such a winding may be wider than a flat one that fits in.
   */
  readonly driver: WallProbe | PlacedCoil
  /** Always on the unrolled wall; turned 0: one ahead of the other around the hole. */
  readonly pickUps: PickUpPair
}

/**
 * As pairAnswer, for a crack in the wall of a hole: the pick-ups, and the driver if it is not planned in the hole, stand on
 * the wall as if it were unrolled, across = arc length, radius of the hole times angle. Goes to pairAnswer as the hole grows.
 * All places of a call share the tables of the fields: ask for a whole table [angle, along] at once.
 * Refuses: as wallCrackAnswer, and as pairAnswer.
 */
export function wallPairAnswer(
  plan: WallCrackPlan,
  { driver, pickUps }: WallPair,
  places: readonly WallPlace[]
): Result<CrackAnswer<WallPlace>, FieldsCode> {
  const isRound = 'placed' in driver
  const { coil } = isRound ? driver.placed : driver
  const bad =
    (isRound ? holeComplaint(plan, driver) : placedComplaint(driver)) ??
    delayComplaint(plan.part.frequency, meters(Math.max(plan.holeDiameter, coil.outerRadius))) ??
    pairComplaint(plan, pickUps) ??
    wallPlacesComplaint((isRound ? driver.reach : FARTHEST * coil.outerRadius) - halfLength(plan), places) ??
    (isRound ? roundOpeningComplaint(plan, places) : undefined)
  if (bad !== undefined) return bad
  const flat = places.map((place) => unrolled(plan, place))
  const driven = isRound ? wallField(plan, wallTable(plan, driver, places), places) : incidentField(plan, driver, flat)
  const changes = crackChanges(plan, { driver: driven, pickUp: pairField(plan, pickUps, flat) })
  return {
    signals: places.map((place, at) => ({ place, ...changes[at]! })),
    statement: wallPairStatement(plan.part, isRound),
    basis: {
      part: plan.part,
      holeDiameter: plan.holeDiameter,
      probe: { driver: isRound ? driver.placed : driver, pickUps }
    }
  }
}

const unrolled = ({ holeDiameter }: WallCrackPlan, { angle, along }: WallPlace): CoilPlace => ({
  across: meters(0.5 * holeDiameter * angle),
  along
})
