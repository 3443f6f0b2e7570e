import type { Result } from '../../refusal/index.ts'
import { type NumericsCode, refuse } from '../codes.ts'
import { covarianceOf, dependentColumn } from '../least-squares.ts'
import type { SymmetricMatrix } from '../solve.ts'
import {
  dampedStep,
  lengthOf,
  type NonlinearRegression,
  type Place,
  placeAt,
  scaleAt,
  type Triangle,
  triangleAt
} from './place.ts'

export interface NonlinearFit {
  readonly parameters: Float64Array
  /** of the parameters, by the tangent plane, scaled by sigma^2 */
  readonly covariance: SymmetricMatrix
  readonly standardErrors: Float64Array
  /** residual standard deviation (of a point with weight 1) */
  readonly sigma: number
  /** points less parameters */
  readonly dof: number
  /** (weighted) sum of squared residuals */
  readonly rss: number
  /** steps tried */
  readonly iterations: number
  /** length of the residuals along the tangent plane over their whole length: 0 at a minimum */
  readonly offset: number
}

interface Search {
  readonly data: NonlinearRegression
  place: Place
  triangle: Triangle
  damping: number
  /** by how much the damping grows at the next failure */
  growth: number
  iterations: number
}

/** A minimum where a step along the tangent plane would take away this share of the residuals, as a length. */
const CONVERGED = 1e-8
/** The data are met to rounding: what is left has no direction. */
const EXACT = 1e-15
const FIRST_DAMPING = 1e-3
const MOST = 2000
/** Below this offset undamped steps are tried first. */
const NEAR = 1e-4

/**
 * Nonlinear least squares by Levenberg and Marquardt's damped steps with given derivatives, in parameters scaled by the
 * largest length of their columns so far, each step by Householder QR. The damping follows how well the fall of the sum
 * of squares was foretold. It has converged where the residuals' part along the tangent plane is at most 1e-8 of their
 * length (then further by undamped steps as long as these lower it by a tenth), or where they are at most 1e-15 of y. A minimum so
 * found is a local one: another start may have a lower sum of squares.
 * Refuses: numerics/too-few-points (not more points than parameters), numerics/not-converged (also where the model has no
 * finite value at the start), numerics/degenerate (parameters that the data do not tell apart where the search ended).
 * Throws RangeError without parameters or for weights that are not positive.
 * source: levenberg-1944; marquardt-1963; more-1978; nielsen-1999; bates-watts-1981
 */
export function fitNonlinear(data: NonlinearRegression): Result<NonlinearFit, NumericsCode> {
  checkProblem(data)
  if (data.y.length <= data.start.length) return tooFew(data)
  const place = placeAt(data, Float64Array.from(data.start))
  if (place === undefined) return notConverged('a model without a finite value at the start')
  const triangle = triangleAt(place, scaleAt(place))
  const search = { data, place, triangle, damping: FIRST_DAMPING, growth: 2, iterations: 0 }
  while (!isDone(search)) {
    if (search.iterations === MOST || search.damping > 1e30) return unfinished(search)
    tryStep(search)
  }
  return summary(search)
}

/** Throws RangeError. */
function checkProblem({ y, start, weights }: NonlinearRegression): void {
  if (start.length === 0) throw new RangeError('a fit has at least one parameter')
  if (weights === undefined) return
  const isFit = weights.length === y.length && Array.from(weights).every((weight) => weight > 0)
  if (!isFit) throw new RangeError('weights are positive, one a point')
}

const isDone = ({ data, place, triangle }: Search): boolean =>
  triangle.offset <= CONVERGED || lengthOf(place.residuals) <= EXACT * weightedLength(data)

const weightedLength = ({ y, weights }: NonlinearRegression): number =>
  lengthOf(Float64Array.from(y, (value, i) => value * Math.sqrt(weights?.[i] ?? 1)))

function tryStep(search: Search): void {
  search.iterations++
  if (search.triangle.offset < NEAR && isStepped(search)) return
  const { by, expected } = dampedStep(search.triangle, search.damping)
  const place = placeAt(search.data, moved(search.place.parameters, by))
  const gain = place === undefined ? -1 : fall(search.place, place) / expected
  if (place === undefined || !(gain > 0)) damp(search)
  else advance(search, place, gain)
}

function advance(search: Search, place: Place, gain: number): void {
  const more = 2 * gain - 1
  search.damping *= Math.max(1 / 3, 1 - more * more * more)
  search.growth = 2
  search.triangle = triangleAt(place, scaleAt(place, search.triangle.scale))
  search.place = place
}

/** An undamped step near the minimum, where sums of squares hardly differ: taken where the offset falls. */
function isStepped(search: Search): boolean {
  const place = placeAt(search.data, moved(search.place.parameters, dampedStep(search.triangle, 0).by))
  if (place === undefined) return false
  const triangle = triangleAt(place, search.triangle.scale)
  if (!(triangle.offset < 0.9 * search.triangle.offset)) return false
  search.place = place
  search.triangle = triangle
  return true
}

function damp(search: Search): void {
  search.damping *= search.growth
  search.growth *= 2
}

const moved = (parameters: Float64Array, by: Float64Array): Float64Array => parameters.map((value, j) => value + by[j]!)

/** Of the sum of squares, from differences of residuals: it keeps its digits near the minimum. */
function fall({ residuals: before }: Place, { residuals: after }: Place): number {
  let sum = 0
  for (let i = 0; i < before.length; i++) sum += (before[i]! - after[i]!) * (before[i]! + after[i]!)
  return sum
}

function summary(search: Search): Result<NonlinearFit, NumericsCode> {
  const column = dependentColumn(search.triangle.qr)
  if (column !== undefined) return notTold(column, search)
  while (isStepped(search)) search.iterations++
  const { place, triangle, iterations } = search
  const whole = lengthOf(place.residuals)
  const dof = place.residuals.length - place.parameters.length
  const sigma = whole / Math.sqrt(dof)
  const covariance = covarianceOf(triangle.qr, triangle.scale, sigma)
  const size = covariance.size
  const standardErrors = Float64Array.from({ length: size }, (_, j) => Math.sqrt(covariance.values[j * size + j]!))
  const { parameters } = place
  return { parameters, covariance, standardErrors, sigma, dof, rss: whole * whole, iterations, offset: triangle.offset }
}

function tooFew({ y, start }: NonlinearRegression): Result<never, NumericsCode> {
  return refuse('numerics/too-few-points', {
    found: `${y.length} points for ${start.length} parameters`,
    needed: 'more points than parameters',
    remedy: 'take more points or fit fewer parameters'
  })
}

function notConverged(found: string): Result<never, NumericsCode> {
  return refuse('numerics/not-converged', {
    found,
    needed: 'a minimum of the sum of squares',
    remedy: 'start nearer to the answer, or fit another curve'
  })
}

function unfinished(search: Search): Result<never, NumericsCode> {
  const { iterations, triangle, place } = search
  const column = dependentColumn(triangle.qr)
  if (column !== undefined) return notTold(column, search)
  const at = place.parameters.join(', ')
  return notConverged(`${triangle.offset} of the residuals along the tangent plane after ${iterations} steps, at ${at}`)
}

function notTold(column: number, { place }: Search): Result<never, NumericsCode> {
  return refuse('numerics/degenerate', {
    found: `parameter ${column + 1} following from the others at ${place.parameters.join(', ')}`,
    needed: 'data that tell the parameters apart',
    remedy: 'start nearer to the answer, fit fewer parameters or take points at other places'
  })
}
