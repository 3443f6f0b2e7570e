import type { Refusal } from '@trueloop/ground/refusal'
import type { Answering, Plane } from './asked.ts'
import { refuse } from './codes.ts'
import type { Hypothesis } from './hypotheses.ts'
import type { KindName } from './kinds.ts'
import type { Sizing } from './parameters.ts'
import { type Depths, depthsIn } from './plane.ts'
import type { DepthRange } from './statement.ts'
import type { Lesson } from './teach.ts'

/** A flaw in the light of the lessons of the kinds that it may be of. */
export interface Told {
  readonly planes: readonly Plane[]
  readonly lessons: readonly Lesson[]
  /** down to which depths are looked at */
  readonly deepest_mm: number
}

/** A law that weighs less than this changes no figure. */
const NEGLIGIBLE = 5e-3

/** What a flaw's rows, as fits of each length for each kind and face, and the notches' rows say together. */
export function toldBy(hypotheses: readonly Hypothesis[], lessons: readonly Lesson[]): Told {
  const planes = hypotheses.flatMap(({ kind, fits: behind, odds }) => {
    const { laws, turn, aspect, aspectSpread, footprint } = lessons.find((one) => one.kind === kind)!
    const like = { kind, turn, aspect, aspectSpread, width_mm: footprint.width_mm, behind }
    return laws
      .filter(({ weight }) => weight > NEGLIGIBLE)
      .map(({ law, weight }) => ({ ...like, law, weight: weight * odds }))
  })
  return {
    planes,
    lessons,
    deepest_mm: Math.max(...lessons.map(({ deepest_mm }) => deepest_mm))
  }
}

/** Depth of a flaw that answers as a notch does, or as `answering` says of cracks. */
export const depthOf = ({ planes, deepest_mm }: Told, answering: Answering, numbers: Sizing): Depths =>
  depthsIn(planes, { answering, deepest_mm, numbers })

/** A kind that weighs less than this is not what the flaw is. */
const HARDLY = 0.01

/** Kinds that the flaw may be of. */
export const kindsMet = ({ kinds }: Depths): readonly KindName[] =>
  [...kinds].flatMap(([kind, share]) => (share > HARDLY ? [kind] : []))

/** Depths that the notches of every kind have that the flaw may be of. */
function notchesOf(depths: Depths, { lessons }: Told): Notches {
  const met = kindsMet(depths)
  const may = lessons.filter(({ kind }) => met.includes(kind))
  return {
    shallowest_mm: Math.max(...may.map(({ shallowest_mm }) => shallowest_mm)),
    deepest_mm: Math.min(...may.map(({ deepest_mm }) => deepest_mm))
  }
}

interface Notches {
  readonly shallowest_mm: number
  readonly deepest_mm: number
}

/**
 * What is stated of a depth: inside the notches a value, its interval open where it leaves them at the deep end and closed by
 * 0 at the other; outside them a bound, by the nearest notch or by the end of the interval of a flaw of any proportions,
 * whichever is surer.
 */
export function inside(depths: Depths, of: 'like' | 'any', told: Told): DepthRange {
  const { shallowest_mm, deepest_mm } = notchesOf(depths, told)
  const { depth_mm, lower_mm, upper_mm } = depths[of]
  if (depth_mm < shallowest_mm) return { upper_mm: Math.max(shallowest_mm, upper_mm, depths.any.upper_mm) }
  if (depth_mm > deepest_mm) return { lower_mm: Math.min(deepest_mm, lower_mm, depths.any.lower_mm) }
  return {
    depth_mm,
    lower_mm: lower_mm < shallowest_mm ? 0 : lower_mm,
    ...(upper_mm > deepest_mm ? {} : { upper_mm })
  }
}

/** What is to be said of a depth beside its figures. */
export function remarksOn({ turn }: Depths, range: DepthRange): readonly Refusal[] {
  return [
    ...(range.depth_mm === undefined ? [outsideNotches(range)] : []),
    ...(turn === 'contradicts' ? [turnDisagrees()] : [])
  ]
}

const outsideNotches = ({ lower_mm }: DepthRange): Refusal =>
  refuse('evaluate/beyond-notches', {
    found: lower_mm === undefined ? 'an answer of less than the smallest notch' : 'an answer of more than the deepest',
    needed: 'a depth between the notches of the kind',
    remedy: 'a bound is stated; nothing is extrapolated'
  })

const turnDisagrees = (): Refusal =>
  refuse('evaluate/turn-disagrees', {
    found: 'an angle that belongs to another depth than the amplitude',
    needed: 'angle and amplitude of one flaw, answering as a notch or as the response ratio says',
    remedy: 'the depth is told by the amplitude alone; look for damage or another metal at the same place'
  })
