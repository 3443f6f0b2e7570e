import type { Result } from '@trueloop/ground/refusal'
import type { FieldsCode } from '../codes.ts'
import { delayComplaint } from '../frequency.ts'
import { type PlacedCoil, placedComplaint } from '../layers/coil.ts'
import type { AnswerBasis } from './basis.ts'
import type { CoilPlace } from './crack.ts'
import { incidentField } from './incident.ts'
import { placesComplaint } from './places.ts'
import type { CrackPlan } from './plan.ts'
import { type CrackChange, crackChanges } from './solve.ts'
import { type CrackStatement, crackStatement } from './statement.ts'

/** What a crack changes, at one place of the coil. */
export interface CrackSignal<Place = CoilPlace> extends CrackChange {
  readonly place: Place
}

export interface CrackAnswer<Place = CoilPlace> {
  readonly signals: readonly CrackSignal<Place>[]
  readonly statement: CrackStatement
  readonly basis: AnswerBasis
}

/**
 * Answer of a crack to a coil at any number of places: Delta Z = -integral of E p dS for unit current, and what an opening
 * adds, as at crackChanges. Refuses: fields/frequency-too-high, fields/bad-place, and as coaxialProbe.
 * source: bowler-1994
 */
export function crackAnswer(
  plan: CrackPlan,
  coil: PlacedCoil,
  places: readonly CoilPlace[]
): Result<CrackAnswer, FieldsCode> {
  const bad =
    placedComplaint(coil) ??
    delayComplaint(plan.part.frequency, coil.coil.outerRadius) ??
    placesComplaint(plan, coil, places)
  if (bad !== undefined) return bad
  const field = incidentField(plan, coil, places)
  const changes = crackChanges(plan, { driver: field, pickUp: field })
  return {
    signals: places.map((place, at) => ({ place, ...changes[at]! })),
    statement: crackStatement(plan.part),
    basis: { part: plan.part, holeDiameter: 'flat', probe: coil }
  }
}
