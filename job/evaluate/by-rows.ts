import type { Refusal } from '@trueloop/ground/refusal'
import type { ResponseStudy } from '../plan/index.ts'
import type { Bounds } from './bounds.ts'
import { type Crack, crackBy, type Ratios } from './crack.ts'
import { depthOf, inside, kindsMet, remarksOn, type Told, toldBy } from './estimate.ts'
import type { Hypothesis } from './hypotheses.ts'
import type { Kind } from './kinds.ts'
import type { SizedUnder } from './measured.ts'
import type { Sizing } from './parameters.ts'
import { type DepthRange, rangeOf, rangeText, type SizeStatement } from './statement.ts'
import { metOf, studyAgainstDepth } from './study.ts'
import type { Lesson } from './teach.ts'

/** A flaw that was followed along the axis, with the lessons of its kinds and what amplitude alone says. */
export interface FollowedFlaw {
  readonly hypotheses: readonly Hypothesis[]
  readonly lessons: readonly Lesson[]
  readonly kinds: readonly Kind[]
  readonly bounds: Bounds
}

interface By {
  readonly numbers: Sizing
  readonly study: ResponseStudy | undefined
}

type Depth = Omit<SizeStatement, 'extent' | 'extent_mm' | 'withheld' | 'why'>

/** Depth by amplitude, length and angle together: notch-equivalent, and a crack's where a ratio holds. */
export function followedDepth(
  flaw: FollowedFlaw,
  under: SizedUnder,
  by: By
): { readonly depth: Depth; readonly why: readonly Refusal[] } {
  const { numbers, study } = by
  const told = toldBy(flaw.hypotheses, flaw.lessons)
  const depths = depthOf(told, { ratio: 1, variance: 0 }, numbers)
  const outside = studyAgainstDepth(study, { kinds: flaw.kinds, under, depth_mm: depths.like.depth_mm })
  if (outside !== undefined) return { depth: flaw.bounds, why: [outside] }
  const equivalent = inside(depths, 'like', told)
  const { crack, why } = crackFor(told, flaw, { under, numbers, equivalent })
  const turn = crack?.turn ?? depths.turn
  const basis = [
    'amplitude and extent along the axis',
    ...(turn === 'used' ? ['angle'] : []),
    ...(crack === undefined ? ['in the proportions of the notches'] : []),
    ...(kindsMet(depths).length > 1 ? ['corner or mid-bore'] : []),
    ...(study === undefined ? [] : [`response study "${study.name}"`])
  ]
  const stated =
    crack === undefined
      ? equivalentOf(equivalent, inside(depths, 'any', told), flaw.bounds)
      : crackOf(crack, equivalent)
  return {
    depth: { ...stated, level: 1 - numbers.leftOut, basis: basis.join(', ') },
    why: [...remarksOn({ ...depths, turn }, crack?.range ?? equivalent), ...why]
  }
}

const equivalentOf = (range: DepthRange, wide: DepthRange, bounds: Bounds): Depth => ({
  depth: `${rangeText(range)}, notch-equivalent; whatever its length ${rangeText(wide)}; ${bounds.depth}`,
  ...rangeOf(range)
})

const crackOf = ({ range, used }: Crack, equivalent: DepthRange): Depth => ({
  depth: `${rangeText(range)} by the response ratio "${used.name}"; notch-equivalent ${rangeText(equivalent)}`,
  ...rangeOf(range),
  equivalent: rangeOf(equivalent),
  ratio: used
})

interface CrackAsked {
  readonly under: SizedUnder
  readonly numbers: Sizing
  readonly equivalent: DepthRange
}

function crackFor(told: Told, { kinds }: FollowedFlaw, { under, numbers, equivalent }: CrackAsked): Ratios {
  if (under.documents === undefined) return { crack: undefined, why: [] }
  const { ratios, setup } = under.documents
  return crackBy(told, { ratios, met: metOf(kinds, setup), numbers }, equivalent)
}
