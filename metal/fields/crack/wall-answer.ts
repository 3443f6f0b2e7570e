import { PI } from '@trueloop/ground/numerics'
import type { Refusal, Result } from '@trueloop/ground/refusal'
import { type FieldsCode, refuse } from '../codes.ts'
import { delayComplaint } from '../frequency.ts'
import type { WallProbe } from '../hole/wall-probe.ts'
import { openingOffPlane } from './places.ts'
import type { CrackAnswer } from './response.ts'
import { type CrackChange, crackChanges } from './solve.ts'
import { wallStatement } from './statement.ts'
import type { WallCrackPlan, WallPlace } from './wall-crack.ts'
import { wallField, wallTable } from './wall-incident.ts'

/** Places solved together: enough to share the table, few enough for memory. */
const TOGETHER = 32

/**
 * Answer of a crack in the wall of a hole to a coil that faces the wall: Delta Z as at crackAnswer, with the exact field of
 * the coil in the hole, E_phi. All places of a call share one table of that field, so a whole table [angle, along] is asked
 * for at once; places that mirror each other cost as one. Refuses: fields/frequency-too-high, fields/another-hole,
 * fields/bad-place, fields/opening-off-plane. source: bowler-1994, burke-theodoulidis-2004
 */
export function wallCrackAnswer(
  plan: WallCrackPlan,
  probe: WallProbe,
  places: readonly WallPlace[]
): Result<CrackAnswer<WallPlace>, FieldsCode> {
  const bad =
    delayComplaint(plan.part.frequency, probe.placed.holeDiameter) ??
    holeComplaint(plan, probe) ??
    wallPlacesComplaint(probe.reach - halfLength(plan), places) ??
    roundOpeningComplaint(plan, places)
  if (bad !== undefined) return bad
  const isLopsided = plan.part.crack.outline === 'quarter ellipse'
  const keyOf = ({ angle, along }: WallPlace) => `${Math.abs(angle)} ${isLopsided ? along : Math.abs(along)}`
  const distinct = new Map(places.map((place) => [keyOf(place), place]))
  const changes = changesAt(plan, probe, [...distinct.values()])
  const known = new Map([...distinct.keys()].map((key, at) => [key, changes[at]!]))
  return {
    signals: places.map((place) => ({ place, ...known.get(keyOf(place))! })),
    statement: wallStatement(plan.part),
    basis: { part: plan.part, holeDiameter: plan.holeDiameter, probe: probe.placed }
  }
}

function changesAt(plan: WallCrackPlan, probe: WallProbe, places: readonly WallPlace[]): CrackChange[] {
  const table = wallTable(plan, probe, places)
  const starts = Array.from({ length: Math.ceil(places.length / TOGETHER) }, (_, at) => at * TOGETHER)
  return starts.flatMap((start) => {
    const field = wallField(plan, table, places.slice(start, start + TOGETHER))
    return crackChanges(plan, { driver: field, pickUp: field })
  })
}

/** Refuses: fields/another-hole. */
export const holeComplaint = (plan: WallCrackPlan, { placed }: WallProbe): Refusal<FieldsCode> | undefined =>
  placed.holeDiameter === plan.holeDiameter
    ? undefined
    : refuse('fields/another-hole', {
        found: `a coil planned in a hole of ${placed.holeDiameter} m, a crack in one of ${plan.holeDiameter} m`,
        needed: 'one hole',
        remedy: 'plan the coil for the diameter of the hole with the crack'
      })

/** Refuses: fields/bad-place. */
export function wallPlacesComplaint(limit: number, places: readonly WallPlace[]): Refusal<FieldsCode> | undefined {
  const isNear = ({ angle, along }: WallPlace) => Math.abs(angle) <= PI && Math.abs(along) <= limit
  if (places.length > 0 && places.every(isNear)) return undefined
  return refuse('fields/bad-place', {
    found: places.length === 0 ? 'no place of the coil' : `a place beyond half a turn or ${limit} m along the hole`,
    needed: `places from -pi to pi, within ${limit} m along the hole: the reach of the coil less half the crack`,
    remedy:
      'give angles in rad from the crack plane and places in m from the middle of the crack, or plan a longer reach'
  })
}

export const halfLength = ({ part }: WallCrackPlan): number => 0.5 * part.crack.length

/** Refuses: fields/opening-off-plane. */
export const roundOpeningComplaint = ({ part }: WallCrackPlan, places: readonly WallPlace[]) =>
  openingOffPlane(
    part,
    places.every(({ angle }) => angle === 0)
  )
