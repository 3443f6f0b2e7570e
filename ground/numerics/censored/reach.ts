import { isRefusal, type Result } from '../../refusal/index.ts'
import type { Calibration } from '../calibration/inverse.ts'
import { type NumericsCode, refuse } from '../codes.ts'
import { normalCumulative, normalQuantile } from '../distribution.ts'
import { noncentralTQuantile } from '../noncentral.ts'
import { rootBetween } from '../root.ts'
import { ascend } from './ascent.ts'
import type { CensoredData, CensoredFit } from './regression.ts'
import { type CensoredRows, censoredSums } from './sums.kernel.ts'

/**
 * Where a normal response y = b0 + b1 x + error passes a level: the chance of it at x is Phi((x - mu)/sigma),
 * mu = (level - b0)/b1, sigma = tau/b1, in units of x.
 */
export interface Reach {
  readonly mu: number
  readonly sigma: number
  readonly covariance: { readonly mu: number; readonly sigma: number; readonly both: number }
  /** (slope over its standard error)^2 */
  readonly slopeSquare: number
}

/** A fit of one column and its data. */
export interface Response {
  readonly data: CensoredData
  readonly fit: CensoredFit
}

/**
 * cov(mu, sigma) = T V T' with T = [[-1/b1, -mu/b1, 0], [0, -sigma/b1, 1/b1]], V that of (b0, b1, tau).
 * Refuses: numerics/not-rising. Throws RangeError for a fit of another number of columns. source: berens-1989
 */
export function reachOf({ coefficients, tau, covariance }: CensoredFit, level: number): Result<Reach, NumericsCode> {
  if (coefficients.length !== 2) throw new RangeError('a reach is that of a line: a constant and one column')
  const [b0, b1] = [coefficients[0]!, coefficients[1]!]
  if (!(b1 > 0)) return notRising(b1)
  const v = (j: number, k: number): number => covariance.values[3 * j + k]!
  const mu = (level - b0) / b1
  const sigma = tau / b1
  const square = b1 * b1
  return {
    mu,
    sigma,
    covariance: {
      mu: (v(0, 0) + mu * (2 * v(0, 1) + mu * v(1, 1))) / square,
      both: (sigma * (v(0, 1) + mu * v(1, 1)) - v(0, 2) - mu * v(1, 2)) / square,
      sigma: (sigma * (sigma * v(1, 1) - 2 * v(1, 2)) + v(2, 2)) / square
    },
    slopeSquare: square / v(1, 1)
  }
}

/** x at which the level is passed with the chance `share`. source: berens-1989 */
export const reachPlace = ({ mu, sigma }: Reach, share: number): number => mu + normalQuantile(share) * sigma

/** Standard error of `reachPlace` by linear propagation. source: berens-1989 */
export function reachError({ covariance }: Reach, share: number): number {
  const w = normalQuantile(share)
  return Math.sqrt(covariance.mu + w * (2 * covariance.both + w * covariance.sigma))
}

/** A bound of the place with a share. `z`: normal quantile of the one-sided confidence, or the root of a joint criterion. */
export interface ReachQuestion {
  readonly share: number
  readonly z: number
}

/**
 * place + z standard errors. Too short on few rows; for comparison with handbooks. Given only where the slope is told
 * from zero at the same z, since the formula itself always returns a number.
 * Refuses: numerics/no-bound. source: berens-1989
 */
export function reachPropagated(reach: Reach, { share, z }: ReachQuestion): Result<number, NumericsCode> {
  if (!(reach.slopeSquare > z * z)) return noBound(reach.slopeSquare, z * z)
  return reachPlace(reach, share) + z * reachError(reach, share)
}

/**
 * Where the lower bound of the curve, Phi(t - z sqrt(var t)) with t = (x - mu)/sigma and
 * var t = (S11 + 2 t S12 + t^2 S22)/sigma^2, reaches the share: the larger root of a quadratic in t.
 * Refuses: numerics/no-bound where the bound never gets there. source: cheng-iles-1983; berens-1989
 */
export function reachCrossing(reach: Reach, { share, z }: ReachQuestion): Result<number, NumericsCode> {
  const { mu, sigma, covariance } = reach
  const w = normalQuantile(share)
  const [a, b, c] = [covariance.mu, covariance.both, covariance.sigma].map((s) => (z * z * s) / (sigma * sigma))
  const lead = 1 - c!
  if (!(lead > 0 && reach.slopeSquare > z * z)) return noBound(Math.min(reach.slopeSquare, (z * z) / c!), z * z)
  const root = Math.sqrt((w + b!) * (w + b!) - lead * (w * w - a!))
  return mu + (sigma * (w + b! + root)) / lead
}

/** Chance of passing the level at x with its pointwise bounds by the covariance. source: berens-1989 */
export function reachShares(
  { mu, sigma, covariance }: Reach,
  { x, z }: { readonly x: number; readonly z: number }
): { readonly share: number; readonly lower: number; readonly upper: number } {
  const t = (x - mu) / sigma
  const reach = (z * Math.sqrt(covariance.mu + t * (2 * covariance.both + t * covariance.sigma))) / sigma
  return { share: normalCumulative(t), lower: normalCumulative(t - reach), upper: normalCumulative(t + reach) }
}

export interface LikelihoodReach {
  readonly level: number
  readonly share: number
  /** of 2 (l top - l): a quantile of chi-square; 2.7055 for a one-sided 95 % */
  readonly criterion: number
}

/**
 * Upper bound of the place by the profile of the likelihood: the first x beyond it where
 * 2 (l top - max over (b1, tau) with b0 = level + w tau - b1 x) reaches the criterion. Far out the profile tends to the
 * response without slope, so that the bound exists where that one's fall is beyond the criterion.
 * Refuses: numerics/not-rising, numerics/no-bound, numerics/not-converged. source: cox-hinkley-1974, 9.3; cheng-iles-1983
 */
export function reachLikelihood(response: Response, asked: LikelihoodReach): Result<number, NumericsCode> {
  const reach = reachOf(response.fit, asked.level)
  if (isRefusal(reach)) return reach
  const flat = fallWithoutSlope(response)
  if (isRefusal(flat)) return flat
  if (!(flat > asked.criterion)) return noBound(flat, asked.criterion)
  return outward(profileOf(response, asked), {
    from: reachPlace(reach, asked.share),
    step: Math.sqrt(asked.criterion) * reachError(reach, asked.share),
    criterion: asked.criterion
  })
}

/** 2 (l top - l of a response without slope): the likelihood-ratio statistic of the slope. Refuses: numerics/not-converged. */
export function fallWithoutSlope({ data, fit }: Response): Result<number, NumericsCode> {
  const y = Float64Array.from(data.y, (value) => value - fit.coefficients[0]!)
  const rows = { columns: [new Float64Array(y.length).fill(-1), y], offset: 0, side: Int8Array.from(data.side) }
  const wide = fit.tau + Math.abs(fit.coefficients[1]!) * spreadOf(data.columns[0]!)
  const mean = y.reduce((sum, value) => sum + value, 0) / y.length
  const top = ascend(rows, Float64Array.of(mean / wide, 1 / wide))
  return isRefusal(top) ? top : 2 * (fit.logLikelihood - top.value)
}

function spreadOf(column: ArrayLike<number>): number {
  const values = Array.from(column)
  return values.reduce((a, b) => Math.max(a, b)) - values.reduce((a, b) => Math.min(a, b))
}

type Profile = (x: number) => Result<number, NumericsCode>

/** Twice the fall of the best likelihood whose place is x, each search starting where the last one ended. */
function profileOf({ data, fit }: Response, { level, share }: LikelihoodReach): Profile {
  const w = normalQuantile(share)
  const column = Float64Array.from(data.columns[0]!)
  const y = Float64Array.from(data.y, (value) => value - level)
  const side = Int8Array.from(data.side)
  let start = Float64Array.of(fit.coefficients[1]! / fit.tau, 1 / fit.tau)
  return (x) => {
    const rows: CensoredRows = { columns: [column.map((value) => x - value), y], offset: -w, side }
    const from = Number.isFinite(censoredSums(rows, start).value) ? start : Float64Array.of(0, start[1]!)
    const top = ascend(rows, from)
    if (isRefusal(top)) return top
    start = Float64Array.from(top.place)
    return 2 * (fit.logLikelihood - top.value)
  }
}

interface Outward {
  readonly from: number
  readonly step: number
  readonly criterion: number
}

/** Root of sqrt(fall) - sqrt(criterion), nearly straight in x, in a bracket that grows outward. */
function outward(profile: Profile, { from, step, criterion }: Outward): Result<number, NumericsCode> {
  const goal = Math.sqrt(criterion)
  let refusal: Result<never, NumericsCode> | undefined
  const above = (x: number): number => {
    const fall = profile(x)
    if (isRefusal(fall)) refusal = fall
    return isRefusal(fall) ? Number.NaN : Math.sqrt(Math.max(0, fall)) - goal
  }
  let [low, high] = [from, from + step]
  for (let width = step; !(above(high) >= 0); width *= 1.5) {
    if (refusal !== undefined) return refusal
    if (!(width < 1e9 * step)) return noBound(0, criterion)
    ;[low, high] = [high, high + width]
  }
  const found = rootBetween((x) => (refusal === undefined ? above(x) : 0), { low, high })
  return refusal ?? found
}

/**
 * Exact upper bound of the place for rows that were all read: the smallest x from which
 * b0 + b1 x - t' sqrt(d) s >= level, d = 1/n + (x - mean)^2/Sxx, s with n - 2 degrees of freedom, t' the quantile of the
 * non-central t with n - 2 degrees of freedom and the shift w/sqrt(d). One-sided confidence.
 * Refuses: numerics/not-rising, numerics/no-bound (b1 not above t s/sqrt(Sxx)). source: owen-1968
 */
export function reachExact(
  line: Calibration,
  { level, share, confidence }: { readonly level: number; readonly share: number; readonly confidence: number }
): Result<number, NumericsCode> {
  if (!(line.slope > 0)) return notRising(line.slope)
  const w = normalQuantile(share)
  const dof = line.count - 2
  const t = (shift: number): number => noncentralTQuantile({ tail: 'lower', share: confidence }, { dof, shift })
  const perLine = line.sigma / Math.sqrt(line.spread)
  const limit = t(0)
  if (!(line.slope > limit * perLine)) return noBound((line.slope * line.slope) / (perLine * perLine), limit * limit)
  const margin = (x: number): number => {
    const d = Math.sqrt(1 / line.count + ((x - line.mean) * (x - line.mean)) / line.spread)
    return line.intercept + line.slope * x - t(w / d) * d * line.sigma - level
  }
  const place = (level + w * line.sigma - line.intercept) / line.slope
  return climbing(margin, place, Math.sqrt(line.spread / line.count))
}

function climbing(margin: (x: number) => number, place: number, step: number): Result<number, NumericsCode> {
  let width = step
  for (; margin(place + width) < 0; width *= 2) if (!(width < 1e12 * step)) return noBound(0, 0)
  return rootBetween(margin, { low: place, high: place + width })
}

function notRising(slope: number): Result<never, NumericsCode> {
  return refuse('numerics/not-rising', {
    found: `a slope of ${slope}`,
    needed: 'a response that rises with x',
    remedy: 'check the order of the columns, the units and the sign of the readings'
  })
}

function noBound(found: number, needed: number): Result<never, NumericsCode> {
  return refuse('numerics/no-bound', {
    found: `${found}, the statistic of a response without slope`,
    needed: `more than ${needed}`,
    remedy: 'state that it is not demonstrated; more rows over a wider range of x would tell'
  })
}
