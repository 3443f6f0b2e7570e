import { UNIT } from '../signal/index.ts'
import type { Plane } from './strokes-levels.ts'

/** What the sliding mean of a pass shows, whatever the feed did: stretches of metal between air, and disturbances in them. */

/** Ruler points between which something lies for certain. */
export interface Reach {
  readonly from: number
  readonly to: number
}

/** One stretch of metal: where the probe came into it and went out of it, and the disturbances met between, in order. */
export interface MetalStretch {
  readonly in: Reach
  readonly out: Reach
  readonly disturbances: readonly Reach[]
  /** whether the mean rested at the level of the metal before, between and behind all of them */
  readonly rested: boolean
}

/**
 * The mean is one over a revolution: what it shows may be half a revolution early or late, however the feed changed
 * meanwhile, and a few points of the placing kernel.
 */
const BLUR = UNIT / 2 + 16
const IN_METAL = 0.75
const IN_AIR = 0.25
/** Revolutions for which the mean has to stay at the level of the metal in each layer: a flank is passed sooner. */
const REST = 0.5
/** What scatter may do to the top of a disturbance or to the crossing of a face, in standard deviations. */
const TOP_TIMES = 5
const ROUNDING = 1e-9
/** To what share of the step the levels of air and metal are taken to be known. */
const LEVEL = 0.01

/** Stretches of metal at one level of the metal; undefined where the last one does not end in air. */
export function metalStretches(plane: Plane): readonly MetalStretch[] | undefined {
  return metalRuns(plane.share)?.map((run) => stretchOf(run, plane))
}

/** Elements of a run of metal, and the last one of air before it and first one after it. */
interface Run {
  readonly before: number
  readonly first: number
  readonly last: number
  readonly after: number
}

/** Runs of metal, told with a wide hysteresis: a gap between layers that is not air is a disturbance. */
function metalRuns(share: Float64Array): readonly Run[] | undefined {
  const runs: Run[] = []
  let air = 0
  let first = -1
  let last = -1
  for (let i = 0; i < share.length; i++) {
    if (share[i]! >= IN_METAL) {
      if (first < 0) first = i
      last = i
    } else if (share[i]! <= IN_AIR) {
      if (first >= 0) runs.push({ before: air, first, last, after: i })
      first = -1
      air = i
    }
  }
  return first < 0 ? runs : undefined
}

function stretchOf(run: Run, plane: Plane): MetalStretch {
  const disturbed = disturbedRuns(run, plane)
  const least = REST * plane.perUnit
  const starts = [...disturbed.tops.map(({ from }) => from), disturbed.end]
  const ends = [disturbed.begin, ...disturbed.tops.map(({ to }) => to)]
  return {
    in: crossing(run.before, run.first, plane),
    out: crossing(run.last, run.after, plane),
    disturbances: disturbed.tops.map((top) => topOf(top, plane)),
    rested: starts.every((start, k) => start - ends[k]! >= least)
  }
}

/** Where the way between air and metal is half done, within the scatter of the mean. */
function crossing(from: number, to: number, { at, share, scatter }: Plane): Reach {
  const margin = TOP_TIMES * scatter + LEVEL
  const sense = share[from]! < share[to]! ? 1 : -1
  let first = to
  let last = from
  for (let i = from; i <= to; i++) {
    const over = sense * (share[i]! - 0.5)
    if (over >= -margin) first = Math.min(first, i)
    if (over <= margin) last = Math.max(last, i)
  }
  return blurred(at[Math.max(from, Math.min(first - 1, last))]!, at[Math.min(to, Math.max(last + 1, first))]!)
}

const blurred = (from: number, to: number): Reach => ({ from: from - BLUR, to: to + BLUR })

interface Disturbed {
  /** elements of the runs in which the mean leaves the level of the metal beyond its limit and comes back */
  readonly tops: readonly Reach[]
  /** where the mean first comes to the level behind one face, and last leaves it before the other */
  readonly begin: number
  readonly end: number
}

function disturbedRuns({ first, last }: Run, { away, disturbed }: Plane): Disturbed {
  const atLevel = (i: number) => away[i]! <= 0.5 * disturbed
  let begin = first
  while (begin <= last && !atLevel(begin)) begin++
  let end = last
  while (end > begin && !atLevel(end)) end--
  const tops: Reach[] = []
  for (let i = begin; i <= end; i++) {
    if (atLevel(i)) continue
    const from = i
    let most = 0
    for (; !atLevel(i); i++) most = Math.max(most, away[i]!)
    if (most > disturbed) tops.push({ from, to: i })
  }
  return { tops, begin, end }
}

/** Where in a disturbed run the mean is farthest from the level of the metal, within its scatter. */
function topOf({ from, to }: Reach, { at, away, scatter }: Plane): Reach {
  let most = 0
  for (let i = from; i < to; i++) most = Math.max(most, away[i]!)
  const least = most - TOP_TIMES * scatter - ROUNDING * most
  let [first, last] = [to, from]
  for (let i = from; i < to; i++) {
    if (away[i]! < least) continue
    first = Math.min(first, i)
    last = i
  }
  return blurred(at[first]!, at[last]!)
}
