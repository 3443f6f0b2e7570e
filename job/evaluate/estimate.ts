import type { Refusal } from '@trueloop/ground/refusal'
import type { Answering, Plane } from './asked.ts'
import type { Behind } from './behind.ts'
import { refuse } from './codes.ts'
import type { Sizing } from './parameters.ts'
import { type Depths, depthsIn } from './plane.ts'
import type { DepthRange } from './statement.ts'
import type { Lesson } from './teach.ts'

/** A flaw in the light of the lessons of the kinds that it may be of. */
export interface Told {
  readonly planes: readonly Plane[]
  readonly lessons: readonly Lesson[]
  /** depths of the notches that every kind has between its shallowest and deepest */
  readonly shallowest_mm: number
  readonly deepest_mm: number
}

/** A law that weighs less than this changes no figure. */
const NEGLIGIBLE = 1e-3

/** What a flaw's rows, as fits of each length, and the notches' rows say together. */
export function toldBy(fits: readonly Behind[], lessons: readonly Lesson[]): Told {
  const planes = lessons.flatMap(({ laws, turn, aspect, footprint: { width_mm } }) =>
    laws
      .filter(({ weight }) => weight > NEGLIGIBLE)
      .map(({ law, weight }) => ({ law, weight, turn, aspect, width_mm, behind: fits }))
  )
  return {
    planes,
    lessons,
    shallowest_mm: Math.max(...lessons.map(({ shallowest_mm }) => shallowest_mm)),
    deepest_mm: Math.min(...lessons.map(({ deepest_mm }) => deepest_mm))
  }
}

/** Depth of a flaw that answers as a notch does, or as `answering` says of cracks. */
export const depthOf = ({ planes, deepest_mm }: Told, answering: Answering, numbers: Sizing): Depths =>
  depthsIn(planes, { answering, deepest_mm, numbers })

/**
 * What is stated of a depth: inside the notches a value, its interval open where it leaves them; outside them a bound, by
 * the nearest notch or by the end of the depth's own interval, whichever is surer.
 */
export function inside(depths: Depths, { shallowest_mm, deepest_mm }: Told): DepthRange {
  const { depth_mm, lower_mm, upper_mm } = depths
  if (depth_mm < shallowest_mm) return { upper_mm: Math.max(shallowest_mm, upper_mm) }
  if (depth_mm > deepest_mm) return { lower_mm: Math.min(deepest_mm, lower_mm) }
  return {
    depth_mm,
    ...(lower_mm < shallowest_mm ? {} : { lower_mm }),
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
