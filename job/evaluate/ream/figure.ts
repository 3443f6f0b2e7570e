import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { Code } from '../codes.ts'
import { boundOf, type DepthBound, type SizedIndication } from './bound.ts'
import { removedBetween, toNanometer } from './diameters.ts'
import { type Ground, groundOf, noRules, type ReamAsked } from './ground.ts'
import { type SizeTried, sizeAfter, sizesTried, smallestFitting } from './sizes.ts'
import type { ReamFigure } from './terms.ts'
import { linesOf } from './words.ts'

/**
 * Figure of a clean-up cut: the smallest permitted size that clears every indication, by
 *
 *   ΔØ = 2 (u + a + e),   Ø needed = Ø largest + ΔØ
 *
 * u upper bound of the depth, a allowance for the error of depth, e eccentricity of the cut, all mm. Derived: in a hole of
 * radius R about O a crack from the wall ends within R + d of O, at whatever clock angle, d its depth. A cut of radius S
 * about C, |OC| ≤ e, takes away all that lies within S of C; by the triangle inequality the end of the crack lies within
 * R + d + e of C, and at just that distance where the axis moved straight away from it. So S = R + d + e is enough and the
 * least that is; with d at most u + a the diameter grows by 2 (u + a + e). In a hole out of round R is largest along the
 * largest diameter, and a crack may lie there: the largest measured diameter counts, as twice the largest distance of the
 * wall from the axis. What a hole of other shape (three lobes) is beyond that belongs to e.
 *
 * A size fits if the lower end of its tolerance is at least the diameter needed, and if at the upper end of its
 * tolerance it is within the largest diameter permitted, edge margin and hole spacing; these with the axis moved by e
 * toward the edge in every cut. Where the procedure asks for a further cut, that must still fit after it.
 * An upper bound is notch-equivalent unless a response ratio was applied: the allowance has to cover that.
 *
 * Refuses `evaluate/ream-no-bound` and what `groundOf` refuses. Where nothing fits, it is proposed to refer.
 */
export function reamFigure(asked: ReamAsked, indications: readonly SizedIndication[]): Result<ReamFigure, Code> {
  const ground = groundOf(asked)
  if (isRefusal(ground)) return ground
  const bound = boundOf(indications)
  if (isRefusal(bound)) return bound
  const { depth_allowance_mm: allowance, eccentricity_mm: eccentricity, further_cut_mm: further } = ground.rules
  const increase_mm = toNanometer(2 * (bound.upper_mm + allowance + eccentricity))
  return figureOf(ground, {
    cut: 'clean-up',
    bound,
    increase_mm,
    ...(further === undefined ? {} : { then_mm: further })
  })
}

/**
 * Figure of the further cut that the procedure asks for once an examination shows no trace: the smallest permitted size
 * that is larger than the largest measured diameter by at least what the procedure states. The procedure's figure stands
 * as it is: nothing is added to it.
 *
 * Refuses `evaluate/ream-no-rules` also where the procedure asks for no further cut, and what `groundOf` refuses.
 */
export function furtherCutFigure(asked: ReamAsked): Result<ReamFigure, Code> {
  const ground = groundOf(asked)
  if (isRefusal(ground)) return ground
  const { further_cut_mm: further } = ground.rules
  if (further === undefined) return noRules('rules of reaming that ask for no further cut')
  return figureOf(ground, { cut: 'further cut', increase_mm: further })
}

interface Cut {
  readonly cut: ReamFigure['cut']
  readonly bound?: DepthBound
  readonly increase_mm: number
  /** further cut that must still fit after it */
  readonly then_mm?: number
}

function figureOf(ground: Ground, { cut, bound, increase_mm, then_mm }: Cut): ReamFigure {
  const required_mm = toNanometer(ground.now.largest_mm + increase_mm)
  const needed = {
    required_mm,
    cuts: ground.cuts + 1,
    ...(then_mm === undefined ? {} : { further_mm: then_mm })
  }
  const sizes = sizesTried(ground, needed)
  const fitting = smallestFitting(sizes)
  const reasons = [...againstCuts(ground, then_mm === undefined ? 1 : 2), ...againstSizes(sizes, required_mm)]
  const next = reasons.length === 0 ? fitting : undefined
  const then = next === undefined || then_mm === undefined ? undefined : sizeAfter(next, ground, needed)
  const figure = {
    ...{ hole: ground.hole, cut, sizes, reasons },
    proposed: next === undefined ? ('refer' as const) : ('next size' as const),
    terms: { ...(bound === undefined ? {} : { bound }), increase_mm, required_mm, ...termsOf(ground) },
    ...(next === undefined ? {} : { next }),
    ...(then === undefined ? {} : { then })
  }
  return { ...figure, lines: linesOf(figure) }
}

const termsOf = ({ rules, first, now, cuts }: Ground) => ({
  allowance_mm: rules.depth_allowance_mm,
  eccentricity_mm: rules.eccentricity_mm,
  ...(rules.further_cut_mm === undefined ? {} : { further_cut_mm: rules.further_cut_mm }),
  measured: now,
  max_diameter_mm: rules.max_diameter_mm,
  diameter_class_mm: rules.diameter_class_mm,
  cuts_so_far: cuts,
  ...(rules.most_cuts === undefined ? {} : { most_cuts: rules.most_cuts }),
  removed_so_far: cuts === 0 ? { least_mm: 0, most_mm: 0 } : removedBetween(first, now)
})

/** A clean-up cut after which the further cut would be one too many can't be finished as the procedure asks. */
function againstCuts({ rules: { most_cuts: most }, cuts }: Ground, needed: number): readonly string[] {
  if (most === undefined || cuts + needed <= most) return []
  const further = needed === 1 ? '' : ' and the further cut after it'
  return [`${cuts} cuts so far, and at most ${most} permitted: this one${further} would make ${cuts + needed}`]
}

/** Sizes that are only too small need no line each. */
function againstSizes(sizes: readonly SizeTried[], required_mm: number): readonly string[] {
  if (smallestFitting(sizes) !== undefined) return []
  const enough = sizes.filter(({ least_mm }) => least_mm >= required_mm)
  if (enough.length === 0) return [`no permitted size is sure to be as large as the ${required_mm} mm needed`]
  return enough.map(({ diameter_mm, against }) => `${diameter_mm} mm ${against.join('; ')}`)
}
