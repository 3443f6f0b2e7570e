import { UNIT } from '../signal/index.ts'
import type { Reach } from './strokes-trace.ts'

/** A place of known depth met in a stroke. */
export interface TiePoint extends Reach {
  readonly what: string
  readonly depth_m: number
}

export interface Depths {
  readonly least_m: number
  readonly most_m: number
}

/** Depth from the entry face along the ruler, as far as it is known; undefined before and after the stroke. */
export interface DepthBand {
  at(point: number): Depths | undefined
}

/** What lies between two neighboring tie points of a stroke. */
export interface Stretch {
  /** depths from the entry face, the smaller first, m */
  readonly z0_m: number
  readonly z1_m: number
  /** ruler points from the earliest of the first tie point to the latest of the second */
  readonly from: number
  readonly to: number
  /** revolutions between the two, at least */
  readonly revolutions: number
  /** largest advance a revolution that the ratio allows, m; never above the distance itself */
  readonly largestAdvance_m: number
}

interface Leg extends Stretch {
  readonly z_m: number
  readonly sense: 1 | -1
  readonly perPoint: number
}

/**
 * Between two tie points a distance d apart the feed never runs backward and is nowhere faster than `ratio` times its mean
 * there: R·d/n for n revolutions. A tie point is known to lie in a reach; n is then the least that both leave, and the feed
 * is taken from the earliest beginning and to the latest end. Derived.
 */
function legOf(a: TiePoint, b: TiePoint, ratio: number): Leg {
  const distance = Math.abs(b.depth_m - a.depth_m)
  const points = Math.max(0, b.from - a.to)
  const perPoint = points > 0 ? (ratio * distance) / points : Number.POSITIVE_INFINITY
  return {
    z0_m: Math.min(a.depth_m, b.depth_m),
    z1_m: Math.max(a.depth_m, b.depth_m),
    from: a.from,
    to: b.to,
    revolutions: points / UNIT,
    largestAdvance_m: Math.min(distance, perPoint * UNIT),
    z_m: a.depth_m,
    sense: b.depth_m > a.depth_m ? 1 : -1,
    perPoint
  }
}

/** The stretches of a stroke with these tie points, in ruler order, at this ratio of fastest to mean feed (1 or more). */
export const stretchesOf = (ties: readonly TiePoint[], ratio: number): readonly Stretch[] =>
  legsOf(ties, ratio).map(({ z_m: _, sense: __, perPoint: ___, ...stretch }) => stretch)

const legsOf = (ties: readonly TiePoint[], ratio: number): readonly Leg[] =>
  ties.slice(1).map((tie, i) => legOf(ties[i]!, tie, ratio))

/** The band of a stroke: at every ruler point the depths of all stretches that may be there. */
export function bandOf(ties: readonly TiePoint[], ratio: number): DepthBand {
  const legs = legsOf(ties, ratio)
  return { at: (point) => together(legs.flatMap((leg) => depthsIn(leg, point))) }
}

function depthsIn({ from, to, z_m, sense, perPoint, z0_m, z1_m }: Leg, point: number): readonly Depths[] {
  if (point < from || point > to) return []
  const distance = z1_m - z0_m
  const most = point === from ? 0 : Math.min(distance, perPoint * (point - from))
  const least = point === to ? distance : Math.max(0, distance - perPoint * (to - point))
  const [a, b] = [z_m + sense * Math.min(least, most), z_m + sense * Math.max(least, most)]
  return [{ least_m: Math.min(a, b), most_m: Math.max(a, b) }]
}

/** The widest of several bands; undefined of none. */
export function together(all: readonly Depths[]): Depths | undefined {
  if (all.length === 0) return undefined
  return {
    least_m: all.reduce((least, one) => Math.min(least, one.least_m), Number.POSITIVE_INFINITY),
    most_m: all.reduce((most, one) => Math.max(most, one.most_m), Number.NEGATIVE_INFINITY)
  }
}
