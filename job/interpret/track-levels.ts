import type { Null } from './ring.ts'
import type { Stretch } from './track.ts'

/** Columns of a stretch, the null taken off, in units of the alarm slot under the coating met at each point; upward. */
export interface Levels {
  readonly x: readonly number[]
  readonly y: readonly number[]
}

/** The null runs straight from that before the stretch to this one behind it. */
export function levelsOf(stretch: Stretch, after: Null): Levels {
  const { x, y, scale, before, from, to, drawnFrom, sense } = stretch
  const share = (i: number): number => Math.max(0, Math.min(1, (drawnFrom + i - from) / Math.max(1, to - from)))
  const null_ = (a: number, b: number, i: number): number => a + share(i) * (b - a)
  return {
    x: x.map((value, i) => (sense * (value - null_(before.x, after.x, i))) / scale[i]!),
    y: y.map((value, i) => (sense * (value - null_(before.y, after.y, i))) / scale[i]!)
  }
}

/**
 * For each point the higher one of the least levels within `reach` points before and after it. Before the stretch lies the
 * plate at 0; behind it the plate goes on as it ended.
 */
export function surroundings(y: readonly number[], reach: number): readonly number[] {
  const before = leastBehind(y, reach, 0)
  const after = leastBehind([...y].reverse(), reach, Number.POSITIVE_INFINITY).reverse()
  return y.map((_, i) => Math.max(0, before[i]!, after[i]!))
}

function leastBehind(y: readonly number[], reach: number, beyond: number): number[] {
  return y.map((_, i) => {
    let least = i < reach ? Math.min(beyond, y[i]!) : y[i]!
    for (let k = Math.max(0, i - reach); k < i; k++) least = Math.min(least, y[k]!)
    return least
  })
}
