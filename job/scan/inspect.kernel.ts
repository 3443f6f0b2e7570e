/** Single passes over the columns of a table. */

/** Rows, in order, in which the column is NaN or infinite. */
export function nonFiniteRows(column: Float64Array): readonly number[] {
  if (allFinite(column)) return NONE
  const rows: number[] = []
  for (let row = 0; row < column.length; row++) {
    const value = column[row]!
    if (value - value !== 0) rows.push(row)
  }
  return rows
}

const NONE: readonly number[] = []

/** A number less itself is 0, and what is none stays none in a sum: four rows a round, as what the compiler asks is shared. */
function allFinite(column: Float64Array): boolean {
  const { length } = column
  let one = 0
  let other = 0
  let row = 0
  for (; row + 4 <= length; row += 4) {
    const a = column[row]!
    const b = column[row + 1]!
    const c = column[row + 2]!
    const d = column[row + 3]!
    one += a - a + (b - b)
    other += c - c + (d - d)
  }
  for (; row < length; row++) one += column[row]! - column[row]!
  return one + other === 0
}

/** True where no row has two numbers that differ; rows without two numbers don't count. */
export function allEqual(x: Float64Array, y: Float64Array): boolean {
  for (let row = 0; row < x.length; row++) {
    const difference = x[row]! - y[row]!
    if (difference < 0 || difference > 0) return false
  }
  return true
}

/** True where no row holds a number other than zero. */
export function allZero(column: Float64Array): boolean {
  for (let row = 0; row < column.length; row++) {
    const value = column[row]!
    if (value < 0 || value > 0) return false
  }
  return true
}
