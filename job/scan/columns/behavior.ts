/** How the values of a column go. */
import { countsOf } from './counts.kernel.ts'

export interface Behavior {
  readonly count: number
  readonly constant: boolean
  /** exactly two values */
  readonly twoValued: boolean
  /** every step up */
  readonly rising: boolean
  /** goes up as a whole, with at most two steps, or one in twenty, down */
  readonly advancing: boolean
  readonly integers: boolean
}

/** Judges the finite values of a column in file order. */
export function behaviorOf(values: Float64Array): Behavior {
  const { count, up, down, gain, distinct, integers } = countsOf(values)
  return {
    count,
    constant: distinct <= 1,
    twoValued: distinct === 2,
    rising: count > 2 && up === count - 1,
    advancing: count > 1 && gain > 0 && down <= Math.max(2, up / 20),
    integers
  }
}

/** Clock readings that start again after a period, made to go on. */
export function unwrapped(values: Float64Array, period: number): Float64Array {
  let wraps = 0
  let before = Number.NEGATIVE_INFINITY
  return values.map((value) => {
    if (value < before - period / 2) wraps++
    if (value - value === 0) before = value
    return value + wraps * period
  })
}
