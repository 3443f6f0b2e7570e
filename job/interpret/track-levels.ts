import { median } from '@trueloop/ground/numerics'
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

/** The median is taken at every so many points, of every so many: it is slow against the field. */
const EVERY = 4

/**
 * The plate under a stretch: the running median over `reach` points to each side. What is shorter than that leaves no
 * trace in it, whichever way it points; a step or a ramp of the plate stays as it is. Before the stretch lies the plate at
 * 0; behind it the plate goes on as it ended.
 */
export function plateUnder(y: readonly number[], reach: number): readonly number[] {
  const end = median(y.slice(-Math.max(1, Math.min(y.length, EVERY * EVERY))))
  const at = (i: number): number => (i < 0 ? 0 : (y[i] ?? end))
  const knots = Array.from({ length: Math.ceil((y.length - 1) / EVERY) + 1 }, (_, k) => {
    const around: number[] = []
    for (let i = k * EVERY - reach; i <= k * EVERY + reach; i += EVERY) around.push(at(i))
    return median(around)
  })
  return y.map((_, i) => {
    const k = Math.floor(i / EVERY)
    const share = i / EVERY - k
    return share === 0 ? knots[k]! : knots[k]! + share * (knots[k + 1]! - knots[k]!)
  })
}
