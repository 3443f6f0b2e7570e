/** A pair of numbers: two unknowns, or a point of a plane. */
export type Pair = readonly [number, number]

/** What is asked for: where on a rectangle of two unknowns a smooth map has a given value. */
export interface Search {
  readonly from: Pair
  readonly to: Pair
  readonly map: (at: Pair) => Pair
}

/** The derivatives of the map: those of its first value, then those of its second. */
export interface Slopes {
  readonly first: Pair
  readonly second: Pair
}

/** Points of the grid on each side, from whose cells the steps begin. */
const GRID = 9
/** Steps of the differences, in parts of the range: error about 1e-10 of the slope, 1e-5 at the edge of the range. */
const DIFFERENCE = 1e-5
const LAST_STEP = 20
/** A step that leaves more than this of the miss has met an edge, a valley or the rounding. */
const SLOW = 0.8

const less = (a: Pair, b: Pair): Pair => [a[0] - b[0], a[1] - b[1]]
export const sizeOf = ([a, b]: Pair): number => Math.sqrt(a * a + b * b)
export const determinant = ({ first, second }: Slopes): number => first[0] * second[1] - first[1] * second[0]

/** Central differences; one-sided where the range ends. */
export function slopesAt({ from, to, map }: Search, at: Pair): Slopes {
  const column = (which: 0 | 1): Pair => {
    const step = DIFFERENCE * (to[which] - from[which])
    const low = Math.max(from[which], at[which] - step)
    const high = Math.min(to[which], at[which] + step)
    const moved = (value: number): Pair => map(which === 0 ? [value, at[1]] : [at[0], value])
    const change = less(moved(high), moved(low))
    return [change[0] / (high - low), change[1] / (high - low)]
  }
  const [a, b] = [column(0), column(1)]
  return { first: [a[0], b[0]], second: [a[1], b[1]] }
}

/** The change of the unknowns that changes the value by `change`, to first order; infinite where there is none. */
export function stepFor(slopes: Slopes, change: Pair): Pair {
  const { first, second } = slopes
  const d = determinant(slopes)
  return [(second[1] * change[0] - first[1] * change[1]) / d, (first[0] * change[1] - second[0] * change[0]) / d]
}

/** A place and how far the map's value there is from the one asked for. */
export interface Place {
  readonly at: Pair
  readonly miss: number
}

/** Newton's steps from a place, halved while they don't come closer, kept inside the range. */
export function approach(search: Search, target: Pair, start: Pair): Place {
  let here = placed(search, target, start)
  for (let count = 0; count < LAST_STEP && here.miss > 0; count++) {
    const step = stepFor(slopesAt(search, here.at), less(target, search.map(here.at)))
    const next = closer(search, target, { here, step })
    if (next === undefined) return here
    const isSlow = next.miss > SLOW * here.miss
    here = next
    if (isSlow) return here
  }
  return here
}

const placed = ({ map }: Search, target: Pair, at: Pair): Place => ({ at, miss: sizeOf(less(map(at), target)) })

function closer(search: Search, target: Pair, { here, step }: { here: Place; step: Pair }): Place | undefined {
  if (!Number.isFinite(step[0] + step[1])) return undefined
  for (let part = 1; part > 0.1; part /= 2) {
    const at = inside(search, [here.at[0] + part * step[0], here.at[1] + part * step[1]])
    const next = placed(search, target, at)
    if (next.miss < here.miss) return next
  }
  return undefined
}

const inside = ({ from, to }: Search, [a, b]: Pair): Pair => [
  Math.min(to[0], Math.max(from[0], a)),
  Math.min(to[1], Math.max(from[1], b))
]

/**
 * Every place found where the map comes as near to the target as it can, the nearest first: steps from the middle of each
 * cell of a grid whose corners surround the target, with half as much again on each side; from the nearest corner at least.
 */
export function placesNear(search: Search, target: Pair): readonly Place[] {
  const corners = gridOf(search)
  const values = corners.map((row) => row.map(search.map))
  const starts = [nearestCorner(corners.flat(), values.flat(), target)]
  for (let i = 0; i + 1 < GRID; i++)
    for (let k = 0; k + 1 < GRID; k++) {
      const cell = [values[i]![k]!, values[i]![k + 1]!, values[i + 1]![k]!, values[i + 1]![k + 1]!]
      if (mayHold(cell, target)) starts.push(middle(corners[i]![k]!, corners[i + 1]![k + 1]!))
    }
  return starts.map((start) => approach(search, target, start)).sort((a, b) => a.miss - b.miss)
}

const middle = (a: Pair, b: Pair): Pair => [0.5 * (a[0] + b[0]), 0.5 * (a[1] + b[1])]

function gridOf({ from, to }: Search): readonly (readonly Pair[])[] {
  const between = (which: 0 | 1, i: number): number => from[which] + ((to[which] - from[which]) * i) / (GRID - 1)
  const steps = Array.from({ length: GRID }, (_, i) => i)
  return steps.map((i) => steps.map((k): Pair => [between(0, i), between(1, k)]))
}

function nearestCorner(corners: readonly Pair[], values: readonly Pair[], target: Pair): Pair {
  let best = 0
  for (let i = 1; i < values.length; i++)
    if (sizeOf(less(values[i]!, target)) < sizeOf(less(values[best]!, target))) best = i
  return corners[best]!
}

function mayHold(values: readonly Pair[], target: Pair): boolean {
  for (const which of [0, 1] as const) {
    const column = values.map((value) => value[which])
    const low = Math.min(...column)
    const high = Math.max(...column)
    const margin = 0.5 * (high - low)
    if (target[which] < low - margin || target[which] > high + margin) return false
  }
  return true
}
