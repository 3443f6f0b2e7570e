import type { Quantity } from '@trueloop/ground/quantity'
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { type FieldsCode, refuse } from '../codes.ts'
import { standardDepth } from '../depth.ts'
import { diameterComplaint } from '../hole/coil.ts'
import type { CrackInPart } from './crack.ts'
import { type CrackPlan, planCrack } from './plan.ts'

/** A crack in the wall of a hole: its plane holds the axis of the hole, its length runs along it, its depth away from it. */
export interface CrackInWall extends Omit<CrackInPart, 'thickness'> {
  readonly holeDiameter: Quantity<'m'>
}

/** Where the axis of the coil points: around the hole from the crack plane, and along it from the middle of the crack. */
export interface WallPlace {
  readonly angle: Quantity<'rad'>
  readonly along: Quantity<'m'>
}

/** A crack in the wall of a hole that is ready for any coil at any place. */
export interface WallCrackPlan extends CrackPlan {
  readonly holeDiameter: Quantity<'m'>
}

/**
 * Shares of the radius of the hole up to which the crack may be treated as if the metal around it were flat: as far as it was
 * measured by finite differences, for a crack without end in a field that does not vary along and around the hole. The two
 * differed by at most 0.7 % in size and 0.4 degrees there, most of which is the error of the differences: it was twice that
 * at twice the step. For a short crack under a small coil nothing was measured.
 */
const WALL = { depth: 1, delta: 0.3 }

/**
 * As planCrack, in the wall of a hole: metal without end behind it, far from the ends of the hole. The field that drives the
 * crack knows the hole exactly; how the crack answers is that of flat metal.
 * Refuses: as planCrack, and fields/bad-diameter, fields/wall-too-round.
 */
export function planWallCrack({ holeDiameter, ...crack }: CrackInWall): Result<WallCrackPlan, FieldsCode> {
  const part: CrackInPart = { ...crack, thickness: 'infinite' }
  const bad = diameterComplaint(holeDiameter) ?? roundComplaint(part, 0.5 * holeDiameter)
  if (bad !== undefined) return bad
  const plan = planCrack(part)
  return isRefusal(plan) ? plan : { ...plan, holeDiameter }
}

function roundComplaint({ crack, frequency, metal }: CrackInPart, radius: number): Refusal<FieldsCode> | undefined {
  const delta = standardDepth(frequency, metal)
  if (isRefusal(delta)) return delta
  if (!(crack.depth > WALL.depth * radius || delta > WALL.delta * radius)) return undefined
  return refuse('fields/wall-too-round', {
    found: `a crack ${crack.depth} m deep at a depth of penetration of ${delta} m in a hole of ${radius} m radius`,
    needed: `at most ${WALL.depth} and ${WALL.delta} of the radius: the crack answers as in flat metal`,
    remedy: 'use a shallower crack or a higher frequency'
  })
}
