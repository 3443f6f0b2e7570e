import { isRefusal, type Result } from '../../refusal/index.ts'
import { type NumericsCode, refuse } from '../codes.ts'
import { log } from '../elementary.ts'
import { leastSquares, type RegressionFit } from '../least-squares.ts'
import { type SymmetricMatrix, solveSymmetric } from '../solve.ts'
import { ascend, type Summit } from './ascent.ts'

/** y against columns and a constant. `side`: -1 the true value is y or less, 0 y was read, +1 the true value is more. */
export interface CensoredData {
  readonly columns: readonly ArrayLike<number>[]
  readonly y: ArrayLike<number>
  readonly side: ArrayLike<number>
}

export interface CensoredFit {
  /** the constant first, then one a column */
  readonly coefficients: Float64Array
  /** standard deviation about the mean line by maximum likelihood: divided by n, not by n less parameters */
  readonly tau: number
  /** of the coefficients and tau, inverse of the observed information */
  readonly covariance: SymmetricMatrix
  readonly logLikelihood: number
  readonly counts: { readonly below: number; readonly read: number; readonly above: number }
  readonly steps: number
}

/** A read row off the line by less than this share of the spread of y is on it. */
const ON_LINE = 1e-10

/**
 * y = b0 + sum b_j x_j + error, error normal with standard deviation tau, by maximum likelihood where some values are
 * known to lie below or above a limit only. Closed form without such rows; else Newton steps in (b/tau, 1/tau), where
 * the likelihood is concave. The maximum exists and is single as the rows read are more than the coefficients, settle
 * them, and do not lie on one line.
 * Refuses: numerics/too-few-points (rows read not more than coefficients), numerics/degenerate (rows read that do not
 * settle the coefficients, lie on a line exactly, or are not finite), numerics/not-converged.
 * source: tobin-1958; olsen-1978
 */
export function censoredRegression(data: CensoredData): Result<CensoredFit, NumericsCode> {
  checkRows(data)
  const read = fitOfRead(data)
  if (isRefusal(read)) return read
  const counts = countsOf(data)
  if (counts.read === data.y.length) return closedForm(read, counts)
  const scales = [...data.columns, data.y].map(scaleOf)
  const summit = ascend(scaledRows(data, scales), startFrom(read, scales))
  return isRefusal(summit) ? summit : unscaled(summit, scales, counts)
}

function checkRows({ columns, y, side }: CensoredData): void {
  if (side.length !== y.length || columns.some((column) => column.length !== y.length))
    throw new RangeError('the columns of a fit must have one length')
  for (let i = 0; i < side.length; i++)
    if (side[i] !== 0 && side[i] !== 1 && side[i] !== -1) throw new RangeError(`a side is -1, 0 or 1, not ${side[i]}`)
}

/** Least squares of the rows read alone: whether there is a maximum, and where to start. */
function fitOfRead({ columns, y, side }: CensoredData): Result<RegressionFit, NumericsCode> {
  const isRead = (_: number, i: number): boolean => side[i] === 0
  const values = Array.from(y).filter(isRead)
  const kept = columns.map((column) => Array.from(column).filter(isRead))
  const fit = leastSquares({ columns: [values.map(() => 1), ...kept], y: values })
  if (isRefusal(fit)) return fit
  return fit.sigma > ON_LINE * scaleOf(values).spread ? fit : onLine(values.length)
}

function onLine(rows: number): Result<never, NumericsCode> {
  return refuse('numerics/degenerate', {
    found: `${rows} rows read, all on one line`,
    needed: 'rows read that scatter about the line',
    remedy: 'take more rows between the limits; a standard deviation of zero has no likelihood'
  })
}

function countsOf({ side }: CensoredData): CensoredFit['counts'] {
  const sides = Array.from(side)
  const count = (of: number): number => sides.filter((one) => one === of).length
  return { below: count(-1), read: count(0), above: count(1) }
}

function closedForm(fit: RegressionFit, counts: CensoredFit['counts']): CensoredFit {
  const n = counts.read
  const size = fit.coefficients.length
  const square = (fit.sigma * fit.sigma * fit.dof) / n
  const values = new Float64Array((size + 1) * (size + 1))
  for (let j = 0; j < size; j++)
    for (let k = 0; k < size; k++) values[j * (size + 1) + k] = (fit.covariance.values[j * size + k]! * fit.dof) / n
  values[values.length - 1] = square / (2 * n)
  const logLikelihood = -0.5 * n * (log(square) + LOG_TAU + 1)
  const covariance = { size: size + 1, values }
  return { coefficients: fit.coefficients, tau: Math.sqrt(square), covariance, logLikelihood, counts, steps: 0 }
}

const LOG_TAU = 1.8378770664093453

interface Scale {
  readonly mean: number
  readonly spread: number
}

function scaleOf(column: ArrayLike<number>): Scale {
  const values = Array.from(column)
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length
  const square = values.reduce((sum, value) => sum + (value - mean) * (value - mean), 0) / values.length
  return { mean, spread: Math.sqrt(square) }
}

/** Columns of -1, -x and y, each x and y standardized. */
function scaledRows({ columns, y, side }: CensoredData, scales: readonly Scale[]) {
  const scaled = (column: ArrayLike<number>, j: number, sign: 1 | -1): Float64Array =>
    Float64Array.from(column, (value) => (sign * (value - scales[j]!.mean)) / scales[j]!.spread)
  const ones = new Float64Array(y.length).fill(-1)
  const all = [ones, ...columns.map((column, j) => scaled(column, j, -1)), scaled(y, columns.length, 1)]
  return { columns: all, offset: 0, side: Int8Array.from(side) }
}

function startFrom({ coefficients, sigma }: RegressionFit, scales: readonly Scale[]): Float64Array {
  const y = scales.at(-1)!
  const slopes = Array.from(coefficients.subarray(1), (b, j) => (b * scales[j]!.spread) / sigma)
  const atMean = coefficients.reduce((sum, b, j) => sum + (j === 0 ? b : b * scales[j - 1]!.mean), -y.mean)
  return Float64Array.of(atMean / sigma, ...slopes, y.spread / sigma)
}

/** From (b/tau, 1/tau) of standardized columns back to (b, tau); the covariance by the derivatives of that. */
function unscaled(
  { place, information, value, steps }: Summit,
  scales: readonly Scale[],
  counts: CensoredFit['counts']
): Result<CensoredFit, NumericsCode> {
  const size = place.length
  const y = scales.at(-1)!
  const inverse = place[size - 1]!
  const toward = backward(place, scales)
  const tau = y.spread / inverse
  const coefficients = new Float64Array(size - 1)
  for (let j = 1; j < size - 1; j++) coefficients[j] = (tau * place[j]!) / scales[j - 1]!.spread
  coefficients[0] = y.mean + tau * place[0]!
  for (let j = 1; j < size - 1; j++) coefficients[0]! -= coefficients[j]! * scales[j - 1]!.mean
  const values = propagated({ size, values: information }, toward)
  if (isRefusal(values)) return values
  const logLikelihood = value - counts.read * log(y.spread)
  return { coefficients, tau, covariance: { size, values }, logLikelihood, counts, steps }
}

/** Derivatives of (b, tau) to (b/tau, 1/tau) of standardized columns, [row of the first][column of the second]. */
function backward(place: Float64Array, scales: readonly Scale[]): readonly Float64Array[] {
  const size = place.length
  const inverse = place[size - 1]!
  const tau = scales.at(-1)!.spread / inverse
  const rows = Array.from({ length: size }, () => new Float64Array(size))
  for (let j = 1; j < size - 1; j++) {
    const spread = scales[j - 1]!.spread
    rows[j]![j] = tau / spread
    rows[j]![size - 1] = (-tau * place[j]!) / (spread * inverse)
  }
  rows[0]![0] = tau
  rows[0]![size - 1] = (-tau * place[0]!) / inverse
  for (let j = 1; j < size - 1; j++) for (let k = 0; k < size; k++) rows[0]![k]! -= rows[j]![k]! * scales[j - 1]!.mean
  rows[size - 1]![size - 1] = -tau / inverse
  return rows
}

/** T I^-1 T' */
function propagated(information: SymmetricMatrix, rows: readonly Float64Array[]): Result<Float64Array, NumericsCode> {
  const { size } = information
  const values = new Float64Array(size * size)
  for (let j = 0; j < size; j++) {
    const solved = solveSymmetric(information, rows[j]!)
    if (isRefusal(solved)) return solved
    for (let k = 0; k < size; k++) values[k * size + j] = solved.reduce((sum, v, i) => sum + v * rows[k]![i]!, 0)
  }
  return values
}
