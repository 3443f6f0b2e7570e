import { productError, sumError } from './elementary/exact.ts'

/** A matrix by columns, [column * rows + row]. */
export interface Columns {
  readonly rows: number
  readonly count: number
  readonly values: Float64Array
}

/** Householder reflectors below and in the diagonal, R above it; the diagonal of R and the reflectors' scales apart. */
export interface HouseholderFactors extends Columns {
  readonly diagonal: Float64Array
  readonly scales: Float64Array
}

/** A = Q R by Householder reflectors, rows >= count. A zero column leaves a zero in the diagonal. source: golub-van-loan-2013, 5.2 */
export function householder(a: Columns): HouseholderFactors {
  const { rows: m, count: n } = a
  const values = Float64Array.from(a.values)
  const diagonal = new Float64Array(n)
  const scales = new Float64Array(n)
  for (let k = 0; k < n; k++) {
    const at = k * m
    let square = 0
    for (let i = k; i < m; i++) square += values[at + i]! * values[at + i]!
    const head = values[at + k]!
    const length = Math.sqrt(square)
    diagonal[k] = head > 0 ? -length : length
    values[at + k] = head - diagonal[k]!
    scales[k] = length === 0 ? 0 : 1 / (square - head * diagonal[k]!)
    for (let j = k + 1; j < n; j++) reflect({ rows: m, values, scales }, k, values.subarray(j * m, (j + 1) * m))
  }
  return { rows: m, count: n, values, diagonal, scales }
}

type Reflectors = Pick<HouseholderFactors, 'rows' | 'values' | 'scales'>

/** One reflector on one column, in place. */
function reflect({ rows, values, scales }: Reflectors, k: number, column: Float64Array): void {
  let dot = 0
  for (let i = k; i < rows; i++) dot += values[k * rows + i]! * column[i]!
  dot *= scales[k]!
  for (let i = k; i < rows; i++) column[i]! -= dot * values[k * rows + i]!
}

/** Q' v in place. */
export function applyTransposed(qr: HouseholderFactors, v: Float64Array): void {
  for (let k = 0; k < qr.count; k++) reflect(qr, k, v)
}

/** Q v in place. */
export function applyQ(qr: HouseholderFactors, v: Float64Array): void {
  for (let k = qr.count - 1; k >= 0; k--) reflect(qr, k, v)
}

/** R x = v, x in place of the first `count` elements. */
export function solveUpper({ rows, count, values, diagonal }: HouseholderFactors, v: Float64Array): void {
  for (let k = count - 1; k >= 0; k--) {
    v[k]! /= diagonal[k]!
    for (let i = 0; i < k; i++) v[i]! -= values[k * rows + i]! * v[k]!
  }
}

/** R' x = v, in place likewise. */
export function solveUpperTransposed({ rows, count, values, diagonal }: HouseholderFactors, v: Float64Array): void {
  for (let k = 0; k < count; k++) {
    for (let i = 0; i < k; i++) v[k]! -= values[k * rows + i]! * v[i]!
    v[k]! /= diagonal[k]!
  }
}

/** b - r - A x for every row, as if in twice the precision. source: ogita-rump-oishi-2005, Dot2 */
export function rowResiduals(a: Columns, b: Float64Array, [r, x]: readonly [Float64Array, Float64Array]): Float64Array {
  const out = new Float64Array(a.rows)
  for (let i = 0; i < a.rows; i++) {
    let sum = b[i]! - r[i]!
    let lost = sumError(b[i]!, -r[i]!, sum)
    for (let j = 0; j < a.count; j++) {
      const factor = -a.values[j * a.rows + i]!
      const product = factor * x[j]!
      const next = sum + product
      lost += productError(factor, x[j]!, product) + sumError(sum, product, next)
      sum = next
    }
    out[i] = sum + lost
  }
  return out
}

/** -A' r for every column, as if in twice the precision. source: ogita-rump-oishi-2005, Dot2 */
export function columnResiduals(a: Columns, r: Float64Array): Float64Array {
  const out = new Float64Array(a.count)
  for (let j = 0; j < a.count; j++) {
    let sum = 0
    let lost = 0
    for (let i = 0; i < a.rows; i++) {
      const factor = -a.values[j * a.rows + i]!
      const product = factor * r[i]!
      const next = sum + product
      lost += productError(factor, r[i]!, product) + sumError(sum, product, next)
      sum = next
    }
    out[j] = sum + lost
  }
  return out
}
