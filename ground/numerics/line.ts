import type { Result } from '../refusal/index.ts'
import { type NumericsCode, refuse } from './codes.ts'
import { median, medianInPlace } from './order.ts'

/** Points of a line fit, columns of one length. `weights` are inverse variances up to a common factor. */
export interface LinePoints {
  readonly x: ArrayLike<number>
  readonly y: ArrayLike<number>
  readonly weights?: ArrayLike<number>
}

export interface Line {
  readonly intercept: number
  readonly slope: number
}

export interface LineFit extends Line {
  /** Residual standard deviation (of a point with weight 1), n - 2 degrees of freedom. */
  readonly sigma: number
  /** Covariance of the two coefficients, scaled by sigma^2. */
  readonly covariance: { readonly intercept: number; readonly slope: number; readonly both: number }
}

/**
 * Weighted least squares of y = intercept + slope x, with the covariance of the coefficients.
 * Refuses: numerics/too-few-points (fewer than 3), numerics/degenerate (all x equal). source: draper-smith-1998 1.4
 */
export function fitLine(points: LinePoints): Result<LineFit, NumericsCode> {
  const { x, y } = points
  const flaw = lineFlaw(points)
  if (flaw !== undefined) return flaw
  const weight = (i: number): number => points.weights?.[i] ?? 1
  const total = sum(x.length, weight)
  const xMean = sum(x.length, (i) => weight(i) * x[i]!) / total
  const yMean = sum(x.length, (i) => weight(i) * y[i]!) / total
  const xx = sum(x.length, (i) => weight(i) * (x[i]! - xMean) * (x[i]! - xMean))
  const slope = sum(x.length, (i) => weight(i) * (x[i]! - xMean) * (y[i]! - yMean)) / xx
  const residual = (i: number): number => y[i]! - yMean - slope * (x[i]! - xMean)
  const variance = sum(x.length, (i) => weight(i) * residual(i) * residual(i)) / (x.length - 2)
  const ofSlope = variance / xx
  const covariance = { intercept: variance / total + xMean * xMean * ofSlope, slope: ofSlope, both: -xMean * ofSlope }
  return { intercept: yMean - slope * xMean, slope, sigma: Math.sqrt(variance), covariance }
}

/**
 * Line by repeated medians: for each point the median slope to the others, then the median of these; the intercept is
 * the median of y - slope x. Half of the points may be arbitrary. Time proportional to the square of the number.
 * Refuses as `fitLine`; weights are not used. source: siegel-1982
 */
export function robustLine(points: LinePoints): Result<Line, NumericsCode> {
  const flaw = lineFlaw(points)
  if (flaw !== undefined) return flaw
  const { x, y } = points
  const slopes = Float64Array.from(x, (_, i) => medianSlopeFrom(points, i))
  const slope = medianInPlace(slopes.filter((s) => !Number.isNaN(s)))
  return { slope, intercept: median(Float64Array.from(x, (_, i) => y[i]! - slope * x[i]!)) }
}

/** NaN where no other point has another x. */
function medianSlopeFrom({ x, y }: LinePoints, i: number): number {
  const slopes: number[] = []
  for (let j = 0; j < x.length; j++) if (x[j] !== x[i]) slopes.push((y[j]! - y[i]!) / (x[j]! - x[i]!))
  return slopes.length === 0 ? Number.NaN : median(slopes)
}

function lineFlaw({ x, y, weights }: LinePoints): Result<never, NumericsCode> | undefined {
  if (x.length !== y.length || (weights !== undefined && weights.length !== x.length)) {
    throw new RangeError('the columns of a line fit must have one length')
  }
  if (x.length < 3) return tooFew(x.length)
  for (let i = 1; i < x.length; i++) if (x[i] !== x[0]) return undefined
  return refuse('numerics/degenerate', {
    found: `${x.length} points with the same x`,
    needed: 'at least two different x values',
    remedy: 'take points at other places'
  })
}

function tooFew(points: number): Result<never, NumericsCode> {
  return refuse('numerics/too-few-points', {
    found: `${points} points`,
    needed: 'at least 3 points for a line with its uncertainty',
    remedy: 'take more points'
  })
}

function sum(length: number, term: (i: number) => number): number {
  let total = 0
  for (let i = 0; i < length; i++) total += term(i)
  return total
}
