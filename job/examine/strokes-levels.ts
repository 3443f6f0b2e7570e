import { median, quantile } from '@trueloop/ground/numerics'
import type { MeanTrace } from '../standardize/index.ts'

/** Where the mean of a pass stands still in the metal: what the level of the metal may be. */

interface Point {
  readonly x: number
  readonly y: number
}

/** A trace seen from its air toward a level of metal, in steps between the two: turning and scaling it change nothing. */
export interface Plane {
  readonly at: Float64Array
  /** elements a revolution */
  readonly perUnit: number
  /** share of the way from air to metal, and distance from the metal, `[n]` */
  readonly share: Float64Array
  readonly away: Float64Array
  /** standard deviation of each component of the mean */
  readonly scatter: number
  /** distance from the metal above which the mean is disturbed */
  readonly disturbed: number
}

const IN_METAL = 0.5
const LEAST_STEP_OVER_WANDER = 8
const DISTURBED_TIMES = 8
/** A disturbance is at least so much of the step to air: less is drift. */
const DISTURBED_SHARE = 0.02
/** Lower quartile of the length of a normal pair, √(2 ln 4/3), in its standard deviation. */
const RAYLEIGH_QUARTER = 0.7585276164409321
const MOST_LEVELS = 8

/**
 * The planes of a trace for every level on which its mean stands for a revolution or longer, the longest stand first: the
 * metal, and perhaps a joint or a face on which the hand dwelt. None where there is no step between air and metal.
 * @param trace sliding mean over one revolution, recorded units, beginning in air; even steps, `perUnit` a revolution
 */
export function planesOf(trace: MeanTrace, perUnit: number): readonly Plane[] {
  const half = Math.floor(perUnit / 2)
  const air = { x: meanOf(trace.x.subarray(0, half)), y: meanOf(trace.y.subarray(0, half)) }
  const first = seenFrom(trace, air, farthest(trace, air))
  const wander = wanderOf(trace, air, perUnit)
  if (first === undefined || !(first.step >= LEAST_STEP_OVER_WANDER * wander)) return []
  return levelsOf(first, perUnit).flatMap((level) => {
    const seen = seenFrom(trace, air, toRecorded(level, air, first.way))
    return seen === undefined ? [] : [planeOf(trace.at, seen, perUnit)]
  })
}

interface Seen {
  readonly share: Float64Array
  readonly across: Float64Array
  readonly way: Point
  readonly step: number
}

function planeOf(at: Float64Array, seen: Seen, perUnit: number): Plane {
  const { share, across } = seen
  const scatter = scatterOf(seen, perUnit)
  const disturbed = Math.max(DISTURBED_SHARE, DISTURBED_TIMES * scatter)
  const away = share.map((value, i) => distance({ x: value, y: across[i]! }, { x: 1, y: 0 }))
  return { at, perUnit, share, away, scatter, disturbed }
}

const meanOf = (column: Float64Array): number => column.reduce((sum, value) => sum + value, 0) / column.length
const distance = (a: Point, b: Point): number => Math.sqrt((a.x - b.x) * (a.x - b.x) + (a.y - b.y) * (a.y - b.y))

function wanderOf({ x, y }: MeanTrace, air: Point, perUnit: number): number {
  const squares = x.subarray(0, perUnit).map((value, i) => {
    const off = distance({ x: value, y: y[i]! }, air)
    return off * off
  })
  return Math.sqrt(meanOf(squares))
}

function farthest({ x, y }: MeanTrace, from: Point): Point {
  let best = 0
  let most = -1
  for (let i = 0; i < x.length; i++) {
    const apart = distance({ x: x[i]!, y: y[i]! }, from)
    if (apart > most) {
      most = apart
      best = i
    }
  }
  return { x: x[best]!, y: y[best]! }
}

function seenFrom({ x, y }: MeanTrace, air: Point, metal: Point): Seen | undefined {
  const way = { x: metal.x - air.x, y: metal.y - air.y }
  const square = way.x * way.x + way.y * way.y
  if (!(square > 0)) return undefined
  return {
    share: x.map((value, i) => ((value - air.x) * way.x + (y[i]! - air.y) * way.y) / square),
    across: x.map((value, i) => ((y[i]! - air.y) * way.x - (value - air.x) * way.y) / square),
    way,
    step: Math.sqrt(square)
  }
}

const toRecorded = (level: Point, air: Point, way: Point): Point => ({
  x: air.x + level.x * way.x - level.y * way.y,
  y: air.y + level.x * way.y + level.y * way.x
})

const pointOf = ({ share, across }: Seen, i: number): Point => ({ x: share[i]!, y: across[i]! })

/**
 * Standard deviation by what changes in the metal from one revolution to the next: of the lower quarter of the changes, to
 * which neither a dwell nor a slow feed over joints and faces adds.
 */
function scatterOf(seen: Seen, perUnit: number): number {
  const changes: number[] = []
  for (let i = 0; i + perUnit < seen.share.length; i++) {
    if (seen.share[i]! < IN_METAL || seen.share[i + perUnit]! < IN_METAL) continue
    changes.push(distance(pointOf(seen, i), pointOf(seen, i + perUnit)))
  }
  return changes.length > 0 ? quantile(changes, 0.25) / (Math.sqrt(2) * RAYLEIGH_QUARTER) : 0
}

/** Levels on which the mean stands: points that are where they were half a revolution and a revolution ago, in groups. */
function levelsOf(seen: Seen, perUnit: number): readonly Point[] {
  const width = Math.max(DISTURBED_SHARE, DISTURBED_TIMES * scatterOf(seen, perUnit))
  const half = Math.floor(perUnit / 2)
  const groups: { first: Point; x: number[]; y: number[] }[] = []
  for (let i = perUnit; i < seen.share.length; i++) {
    const here = pointOf(seen, i)
    const near = (j: number) => distance(here, pointOf(seen, j)) <= 0.5 * width
    if (here.x < IN_METAL || !near(i - half) || !near(i - perUnit)) continue
    let group = groups.find(({ first }) => distance(first, here) <= width)
    if (group === undefined) {
      group = { first: here, x: [], y: [] }
      groups.push(group)
    }
    group.x.push(here.x)
    group.y.push(here.y)
  }
  return groups
    .sort((a, b) => b.x.length - a.x.length)
    .slice(0, MOST_LEVELS)
    .map(({ x, y }) => ({ x: median(x), y: median(y) }))
}
