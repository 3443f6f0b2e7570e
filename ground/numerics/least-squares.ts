import type { Result } from '../refusal/index.ts'
import { type NumericsCode, refuse } from './codes.ts'
import { binaryExponent, twoTo } from './elementary/exact.ts'
import * as kernel from './least-squares.kernel.ts'
import type { SymmetricMatrix } from './solve.ts'

/** y against a sum of columns (a constant is a column of ones). `weights` are inverse variances up to a factor. */
export interface Regression {
  readonly columns: readonly ArrayLike<number>[]
  readonly y: ArrayLike<number>
  readonly weights?: ArrayLike<number>
}

export interface RegressionFit {
  /** one a column */
  readonly coefficients: Float64Array
  /** covariance of the coefficients, scaled by sigma^2 */
  readonly covariance: SymmetricMatrix
  /** residual standard deviation (of a point with weight 1) */
  readonly sigma: number
  /** points less columns */
  readonly dof: number
  /** y less the fit, not weighted */
  readonly residuals: Float64Array
}

interface Scaled extends kernel.Columns {
  /** powers of two by which the columns were divided */
  readonly scale: Float64Array
}

interface Solution {
  readonly x: Float64Array
  readonly residuals: Float64Array
}

const DEPENDENT = 1e-13
const ROUNDS = 6

/**
 * Linear least squares by Householder QR of the columns (scaled by powers of two), then Björck's iterative refinement
 * of coefficients and residuals together, with residuals as if in twice the precision: the coefficients keep nearly all
 * digits the data determine. Never by normal equations.
 * Refuses: numerics/too-few-points (not more points than columns), numerics/degenerate (columns that depend on each
 * other to 1e-13, or a value that is not finite). Throws RangeError for columns that do not fit.
 * source: golub-van-loan-2013, 5.3; bjorck-1967
 */
export function leastSquares(data: Regression): Result<RegressionFit, NumericsCode> {
  checkColumns(data)
  const count = data.columns.length
  const dof = data.y.length - count
  if (dof < 1) return tooFew(data)
  const roots = Float64Array.from(data.y, (_, i) => Math.sqrt(data.weights?.[i] ?? 1))
  const a = scaledColumns(data, roots)
  const b = Float64Array.from(data.y, (y, i) => y * roots[i]!)
  const qr = kernel.householder(a)
  const flaw = dependence(qr, b)
  if (flaw !== undefined) return flaw
  const { x, residuals } = refined(a, qr, b)
  const sigma = Math.sqrt(residuals.reduce((sum, r) => sum + r * r, 0) / dof)
  const covariance = covarianceOf(qr, a.scale, sigma)
  return {
    coefficients: x.map((value, j) => value / a.scale[j]!),
    covariance,
    sigma,
    dof,
    residuals: residuals.map((r, i) => r / roots[i]!)
  }
}

/** Throws RangeError for columns of unlike length and for weights that are not positive. */
function checkColumns({ columns, y, weights }: Regression): void {
  const isFit = columns.length > 0 && columns.every((column) => column.length === y.length)
  if (!isFit || (weights !== undefined && weights.length !== y.length))
    throw new RangeError('the columns of a fit must have one length')
  for (let i = 0; i < (weights?.length ?? 0); i++)
    if (!(weights![i]! > 0)) throw new RangeError(`weights are positive, not ${weights![i]}`)
}

function scaledColumns({ columns, y }: Regression, roots: Float64Array): Scaled {
  const rows = y.length
  const values = new Float64Array(rows * columns.length)
  const scale = Float64Array.from(columns, largest)
  columns.forEach((column, j) => {
    for (let i = 0; i < rows; i++) values[j * rows + i] = (column[i]! / scale[j]!) * roots[i]!
  })
  return { rows, count: columns.length, values, scale }
}

/** The power of two at the largest element of a column; 1 for a column of zeros. */
function largest(column: ArrayLike<number>): number {
  let most = 0
  for (let i = 0; i < column.length; i++) most = Math.max(most, Math.abs(column[i]!))
  return most > 0 && most < Number.POSITIVE_INFINITY ? twoTo(Math.max(-1000, binaryExponent(most))) : 1
}

function dependence(qr: kernel.HouseholderFactors, b: Float64Array): Result<never, NumericsCode> | undefined {
  if (!(qr.values.every(Number.isFinite) && b.every(Number.isFinite))) return degenerate('a value that is not finite')
  const column = dependentColumn(qr)
  return column === undefined ? undefined : degenerate(`column ${column + 1} following from those before it`)
}

/** The first column that follows from those before it to 1e-13 of its length, if one does. */
export function dependentColumn({ count, diagonal, values, rows }: kernel.HouseholderFactors): number | undefined {
  for (let k = 0; k < count; k++) {
    let square = diagonal[k]! * diagonal[k]!
    for (let i = 0; i < k; i++) square += values[k * rows + i]! * values[k * rows + i]!
    if (!(Math.abs(diagonal[k]!) > DEPENDENT * Math.sqrt(square))) return k
  }
  return undefined
}

/**
 * Starts at zero and repeats: residuals f = b - r - A x, g = -A' r; the correction solves the same augmented system
 * by the factors. A fixed number of rounds, each gaining the digits that one solution has.
 * source: bjorck-1967
 */
function refined(a: kernel.Columns, qr: kernel.HouseholderFactors, b: Float64Array): Solution {
  const x = new Float64Array(a.count)
  const residuals = new Float64Array(a.rows)
  for (let round = 0; round < ROUNDS; round++) {
    const top = kernel.rowResiduals(a, b, [residuals, x])
    const bottom = kernel.columnResiduals(a, residuals)
    correct(qr, top, bottom)
    for (let j = 0; j < a.count; j++) x[j]! += bottom[j]!
    for (let i = 0; i < a.rows; i++) residuals[i]! += top[i]!
  }
  return { x, residuals }
}

/** Solves [I A; A' 0] [dr; dx] = [top; bottom] in place: dr in top, dx in bottom. */
function correct(qr: kernel.HouseholderFactors, top: Float64Array, bottom: Float64Array): void {
  kernel.applyTransposed(qr, top)
  kernel.solveUpperTransposed(qr, bottom)
  const step = Float64Array.from(bottom, (h, j) => top[j]! - h)
  top.set(bottom)
  kernel.solveUpper(qr, step)
  bottom.set(step)
  kernel.applyQ(qr, top)
}

/** sigma^2 (R'R)^-1 in the columns' own scale. */
export function covarianceOf(qr: kernel.HouseholderFactors, scale: Float64Array, sigma: number): SymmetricMatrix {
  const n = qr.count
  const values = new Float64Array(n * n)
  for (let j = 0; j < n; j++) {
    const unit = new Float64Array(n)
    unit[j] = 1
    kernel.solveUpperTransposed(qr, unit)
    kernel.solveUpper(qr, unit)
    for (let i = 0; i < n; i++) values[i * n + j] = (((unit[i]! * sigma) / scale[i]!) * sigma) / scale[j]!
  }
  return { size: n, values }
}

function tooFew({ columns, y }: Regression): Result<never, NumericsCode> {
  return refuse('numerics/too-few-points', {
    found: `${y.length} points for ${columns.length} columns`,
    needed: 'more points than columns',
    remedy: 'take more points or fit fewer columns'
  })
}

function degenerate(found: string): Result<never, NumericsCode> {
  return refuse('numerics/degenerate', {
    found,
    needed: 'finite columns of which none follows from the others',
    remedy: 'leave out a column or take points at other places'
  })
}
