import type { Result } from '../refusal/index.ts'
import { type NumericsCode, refuse } from './codes.ts'

/** A symmetric matrix, [row * size + column]; only the lower triangle is read. */
export interface SymmetricMatrix {
  readonly size: number
  readonly values: Float64Array
}

const SINGULAR = 1e-14

/**
 * Solves A x = b for a symmetric positive definite A of small size by Cholesky factors.
 * Refuses: numerics/not-positive-definite, also when a pivot is below 1e-14 of its diagonal value.
 * Throws RangeError for columns that do not fit. source: golub-van-loan-2013 4.2
 */
export function solveSymmetric(a: SymmetricMatrix, b: Float64Array): Result<Float64Array, NumericsCode> {
  const n = a.size
  if (a.values.length !== n * n || b.length !== n)
    throw new RangeError(`a matrix of ${n} x ${n} and a column of ${n} are needed`)
  const l = choleskyFactor(a)
  if (!(l instanceof Float64Array)) return l
  const x = Float64Array.from(b)
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < i; k++) x[i]! -= l[i * n + k]! * x[k]!
    x[i]! /= l[i * n + i]!
  }
  for (let i = n - 1; i >= 0; i--) {
    for (let k = i + 1; k < n; k++) x[i]! -= l[k * n + i]! * x[k]!
    x[i]! /= l[i * n + i]!
  }
  return x
}

/** Lower triangular L with A = L L'. Same shape and refusal as `solveSymmetric`. */
export function choleskyFactor({ size: n, values }: SymmetricMatrix): Result<Float64Array, NumericsCode> {
  const l = new Float64Array(n * n)
  for (let j = 0; j < n; j++) {
    for (let i = j; i < n; i++) {
      let sum = values[i * n + j]!
      for (let k = 0; k < j; k++) sum -= l[i * n + k]! * l[j * n + k]!
      if (i > j) l[i * n + j] = sum / l[j * n + j]!
      else if (sum > SINGULAR * values[j * n + j]!) l[j * n + j] = Math.sqrt(sum)
      else return notPositiveDefinite(j, sum)
    }
  }
  return l
}

function notPositiveDefinite(row: number, pivot: number): Result<never, NumericsCode> {
  return refuse('numerics/not-positive-definite', {
    found: `a pivot of ${pivot} in row ${row}`,
    needed: 'a symmetric matrix with positive pivots throughout',
    remedy: 'look at the data: two of the columns fitted may carry the same information'
  })
}
