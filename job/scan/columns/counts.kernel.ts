/** What one pass over a column counts; only its finite values are looked at. */
export interface Counts {
  readonly count: number
  /** steps up and down from value to value */
  readonly up: number
  readonly down: number
  /** last value less the first */
  readonly gain: number
  /** how many different values there are; 3 where there are more than two */
  readonly distinct: number
  readonly integers: boolean
}

/** @param values column `[n]` */
export function countsOf(values: Float64Array): Counts {
  const n = values.length
  let row = 0
  while (row < n && values[row]! - values[row]! !== 0) row++
  if (row === n) return { count: 0, up: 0, down: 0, gain: 0, distinct: 0, integers: true }
  const first = values[row]!
  let second = first
  let distinct = 1
  let before = first
  let count = 0
  let up = 0
  let down = 0
  let integers = true
  for (; row < n; row++) {
    const value = values[row]!
    if (value - value !== 0) continue
    count++
    if (value > before) up++
    else if (value < before) down++
    before = value
    if (distinct < 3 && value !== first && value !== second) {
      distinct++
      second = value
    }
    if (integers && Math.floor(value) !== value) integers = false
  }
  return { count, up, down, gain: count < 2 ? 0 : before - first, distinct, integers }
}
