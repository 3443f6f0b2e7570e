import type { Refusal, Result } from '@trueloop/ground/refusal'
import { type FieldsCode, refuse } from '../codes.ts'
import { delayComplaint } from '../frequency.ts'
import { type PlacedCoil, placedComplaint } from '../layers/coil.ts'
import type { CoilPlace } from './crack.ts'
import { incidentField } from './incident.ts'
import { type PickUpPair, pairField } from './pair-incident.ts'
import { placesComplaint } from './places.ts'
import type { CrackPlan } from './plan.ts'
import type { CrackAnswer } from './response.ts'
import { crackChanges } from './solve.ts'
import { pairStatement } from './statement.ts'

/** A round driver and a differential pair of half-round pick-ups around the same axis, all air-core. */
export interface DifferentialProbe {
  readonly driver: PlacedCoil
  readonly pickUps: PickUpPair
}

/**
 * Voltage that a crack puts on a differential pair for unit current in the driver: Delta Z as at crackChanges, with the first
 * half of the pair counted plus, the second minus. Without a crack it is zero at any lift-off. With the split line along the
 * crack (turned 0) it is zero centered and of opposite sign on both sides. Holds as crackAnswer; the pair is described by
 * 9 harmonics: 5 of them were within 0.2 % of the largest answer.
 * Refuses: as crackAnswer, for driver and pick-ups, and fields/bad-pair. source: bowler-1994; the field of the pair was
 * derived here
 */
export function pairAnswer(
  plan: CrackPlan,
  probe: DifferentialProbe,
  places: readonly CoilPlace[]
): Result<CrackAnswer, FieldsCode> {
  const { driver, pickUps } = probe
  const bad =
    placedComplaint(driver) ??
    pairComplaint(plan, pickUps) ??
    delayed(plan, driver) ??
    placesComplaint(plan, driver, places)
  if (bad !== undefined) return bad
  const fields = { driver: incidentField(plan, driver, places), pickUp: pairField(plan, pickUps, places) }
  const changes = crackChanges(plan, fields)
  return {
    signals: places.map((place, at) => ({ place, ...changes[at]! })),
    statement: pairStatement(plan.part),
    basis: { part: plan.part, holeDiameter: 'flat', probe }
  }
}

/** Refuses: as placedComplaint, and fields/frequency-too-high, fields/bad-pair. */
export function pairComplaint(plan: CrackPlan, pair: PickUpPair): Refusal<FieldsCode> | undefined {
  const bad = placedComplaint(pair) ?? delayed(plan, pair)
  if (bad !== undefined || Number.isFinite(pair.turned)) return bad
  return refuse('fields/bad-pair', {
    found: `pick-ups turned by ${pair.turned}`,
    needed: 'an angle in rad',
    remedy: 'give 0 where the line between the pick-ups runs along the crack, a quarter turn where it crosses it'
  })
}

const delayed = (plan: CrackPlan, { coil }: PlacedCoil) => delayComplaint(plan.part.frequency, coil.outerRadius)
