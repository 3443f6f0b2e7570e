import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import type { Hole, ReamRules } from '../../plan/index.ts'
import { type Code, refuse } from '../codes.ts'
import { type Diameters, measurings } from './diameters.ts'

/** What a cut is reckoned from. */
export interface ReamAsked {
  /** the technique's; without them there is no figure */
  readonly rules: ReamRules | undefined
  readonly hole: Pick<Hole, 'id' | 'edge_distance_mm' | 'nearest_hole_mm'>
  /** diameters at every measuring, mm: before the first cut and after each; the last is the hole as it is */
  readonly measured_mm: readonly (readonly number[])[]
}

/** The same, with everything there that the rules ask for. */
export interface Ground {
  readonly rules: ReamRules
  readonly hole: string
  readonly edge_mm: number
  /** to the nearest other hole, where the rules limit it */
  readonly spacing_mm?: number
  readonly first: Diameters
  readonly now: Diameters
  readonly cuts: number
}

/**
 * Refuses `evaluate/ream-no-rules`, `evaluate/ream-no-edge-distance`, `evaluate/ream-no-hole-distance` and what
 * `measurings` refuses: nothing that a rule needs is assumed.
 */
export function groundOf({ rules, hole, measured_mm }: ReamAsked): Result<Ground, Code> {
  if (rules === undefined) return noRules('no rules of reaming in the technique')
  const distances = distancesOf(rules, hole)
  if (isRefusal(distances)) return distances
  const all = measurings(measured_mm)
  if (isRefusal(all)) return all
  return { rules, hole: hole.id, ...distances, first: all[0]!, now: all.at(-1)!, cuts: all.length - 1 }
}

function distancesOf(rules: ReamRules, hole: ReamAsked['hole']): Result<Pick<Ground, 'edge_mm' | 'spacing_mm'>, Code> {
  const { edge_distance_mm: edge_mm, nearest_hole_mm: spacing_mm } = hole
  if (edge_mm === undefined) return noDistance('evaluate/ream-no-edge-distance', hole.id, 'edge_distance_mm')
  if (rules.min_hole_spacing === undefined) return { edge_mm }
  if (spacing_mm === undefined) return noDistance('evaluate/ream-no-hole-distance', hole.id, 'nearest_hole_mm')
  return { edge_mm, spacing_mm }
}

const noDistance = (
  code: 'evaluate/ream-no-edge-distance' | 'evaluate/ream-no-hole-distance',
  hole: string,
  key: string
): Refusal<Code> =>
  refuse(code, {
    found: `hole ${hole} without ${key}`,
    needed: 'the distance that the rules of reaming limit, from the center of the hole',
    remedy: `measure it on the part or take it from the drawing, and write ${key} for the hole`
  })

export const noRules = (found: string): Refusal<Code> =>
  refuse('evaluate/ream-no-rules', {
    found,
    needed: 'permitted sizes, limits, allowances and diameter class as the approved procedure states them',
    remedy: 'write technique.reaming from the procedure; where the procedure permits no ream, refer to engineering'
  })
