/** How the values of a column go. */

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
  const finite = values.filter(Number.isFinite)
  const count = finite.length
  const { up, down } = stepsOf(finite)
  const distinct = firstDistinct(finite, 3)
  const gain = count < 2 ? 0 : (finite[count - 1] ?? 0) - (finite[0] ?? 0)
  return {
    count,
    constant: distinct <= 1,
    twoValued: distinct === 2,
    rising: count > 2 && up === count - 1,
    advancing: count > 1 && gain > 0 && down <= Math.max(2, up / 20),
    integers: finite.every(Number.isInteger)
  }
}

function stepsOf(values: Float64Array): { up: number; down: number } {
  let up = 0
  let down = 0
  for (let row = 1; row < values.length; row++) {
    const step = (values[row] ?? 0) - (values[row - 1] ?? 0)
    if (step > 0) up++
    else if (step < 0) down++
  }
  return { up, down }
}

function firstDistinct(values: Float64Array, most: number): number {
  const seen = new Set<number>()
  for (const value of values) {
    seen.add(value)
    if (seen.size >= most) break
  }
  return seen.size
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
