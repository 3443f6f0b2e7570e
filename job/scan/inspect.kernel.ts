/** Single passes over the columns of a table. */

/** Rows, in order, in which the column is NaN or infinite. */
export function nonFiniteRows(column: Float64Array): readonly number[] {
  const rows: number[] = []
  for (let row = 0; row < column.length; row++) {
    const value = column[row]!
    if (value - value !== 0) rows.push(row)
  }
  return rows
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
