import type { Refusal, Result } from '@trueloop/ground/refusal'
import { type FieldsCode, refuse } from '../codes.ts'
import { delayComplaint } from '../frequency.ts'
import { type PlacedCoil, placedComplaint } from '../layers/coil.ts'
import type { CoilPlace } from './crack.ts'
import { incidentField } from './incident.ts'
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
}

/**
 * Answer of a crack to a coil at any number of places: Delta Z = -integral of E p dS for unit current. An opening w adds
 * (w / (4 sigma)) integral of (grad p . grad p) dS, not conjugated: w / 2 of metal is missing on each face, where the
 * tangential field is +- grad p / (2 sigma); that holds with the coil over the crack plane.
 * Refuses: fields/frequency-too-high, fields/bad-place, fields/opening-off-plane, and as coaxialProbe.
 * source: bowler-1994; the term of the opening was derived here, and measurements agree with it (team-15)
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
  return { signals: places.map((place, at) => ({ place, ...changes[at]! })), statement: crackStatement(plan.part) }
}

/** Beyond this many radii a coil sees nothing, and wave numbers get many. */
const FARTHEST = 20

function placesComplaint(
  { part, grid }: CrackPlan,
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
  if (part.crack.opening === 0 || places.every(({ across }) => across === 0)) return undefined
  return refuse('fields/opening-off-plane', {
    found: 'an open crack and a coil beside its plane',
    needed: 'a coil over the crack plane: beside it a further term of the opening is not in this model',
    remedy: 'set the opening to zero, or move the coil along the crack'
  })
}
