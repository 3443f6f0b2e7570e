import { isRefusal, type Result } from '../../refusal/index.ts'
import { type NumericsCode, refuse } from '../codes.ts'
import { log, log1p } from '../elementary.ts'
import { crossing } from './crossing.ts'
import { type BinaryFit, type Curve, standardized } from './fit.ts'
import { linkPlace, linkShare } from './links.ts'
import { heightAt, placeOf, profileOf, slopeHeld } from './profile.ts'

export type Side = 'lower' | 'upper'

/** Where the curve reaches a share. `criterion`: of 2 (l top - l), a quantile of chi-square; it has no default. */
export interface PlaceQuestion {
  readonly share: number
  readonly side: Side
  readonly criterion: number
}

/** Where the curve passes eta: (eta - intercept)/slope. */
export const curvePlace = ({ intercept, slope }: Curve, eta: number): number => (eta - intercept) / slope

/** Variance of the predictor at x: V00 + 2 x V01 + x^2 V11. */
export const predictorVariance = ({ covariance }: Curve, x: number): number =>
  covariance.intercept + x * (2 * covariance.both + x * covariance.slope)

/**
 * Bound of the place x_p by the profile of the likelihood: the first place beyond x_p, on the side asked, at which
 * 2 (l top - max over b1 of l(g(p) - b1 x, b1)) reaches the criterion. The upper bound exists where the slope is above
 * zero and the same statistic of no slope at all is beyond the criterion; the lower one where the best flat chance of p
 * or more is. For a penalized fit the penalized likelihood is used throughout.
 * Refuses: numerics/not-rising, numerics/no-bound, numerics/not-converged.
 * source: cox-hinkley-1974, 9.3; cheng-iles-1983; heinze-schemper-2002
 */
export function likelihoodPlace(fit: BinaryFit, asked: PlaceQuestion): Result<number, NumericsCode> {
  if (!(fit.slope > 0)) return notRising(fit)
  const hindered = withoutBound(fit, asked)
  if (hindered !== undefined) return hindered
  const { mean, scale } = fit.tally
  const eta = linkPlace(fit.link, asked.share)
  const x = curvePlace(fit, eta)
  const way = Math.sqrt((asked.criterion * predictorVariance(fit, x)) / (fit.slope * fit.slope)) / scale
  const found = crossing({
    from: (x - mean) / scale,
    step: asked.side === 'upper' ? way : -way,
    criterion: asked.criterion,
    at: profileOf(fit, placeOf(eta))
  })
  return isRefusal(found) ? found : mean + scale * found
}

function withoutBound(fit: BinaryFit, asked: PlaceQuestion): Result<never, NumericsCode> | undefined {
  const flat = asked.side === 'upper' ? slopeStatistic(fit) : fallOfFlat(fit, asked.share)
  if (isRefusal(flat)) return flat
  return flat > asked.criterion
    ? undefined
    : noBound(`${flat}, the statistic of a curve without slope`, asked.criterion)
}

/** 2 (l top - l of no slope): the likelihood-ratio statistic of the slope. Refuses: numerics/not-converged. */
export function slopeStatistic(fit: BinaryFit): Result<number, NumericsCode> {
  const none = profileOf(fit, slopeHeld)(0)
  return isRefusal(none) ? none : none.fall
}

/** Of all flat chances of p or more, the best: what a place far below comes to. Of the data alone, no penalty. */
function fallOfFlat({ tally, logLikelihood }: BinaryFit, share: number): number {
  const { hitCount, trials } = tally
  const chance = Math.max(share, hitCount / trials)
  return 2 * (logLikelihood - hitCount * log(chance) - (trials - hitCount) * log1p(-chance))
}

/**
 * Where the bound eta(x) -+ z sqrt(var eta(x)) of the curve crosses eta: d = x - x_p solves
 * (b1^2 - z^2 V11) d^2 - 2 z^2 (V01 + x_p V11) d - z^2 var eta(x_p) = 0, the larger root for the upper bound (where the
 * lower bound of the curve crosses), the smaller one for the lower bound. Exists where b1^2 > z^2 V11.
 * Refuses: numerics/not-rising, numerics/no-bound. source: finney-1971, 4.6; draper-smith-1998, 3.2
 */
export function crossingPlace(
  curve: Curve,
  { eta, z, side }: { readonly eta: number; readonly z: number; readonly side: Side }
): Result<number, NumericsCode> {
  if (!(curve.slope > 0)) return notRising(curve)
  const { slope, covariance } = curve
  const lead = slope * slope - z * z * covariance.slope
  if (!(lead > 0))
    return noBound(`${(slope * slope) / covariance.slope}, the square of slope over its standard error`, z * z)
  const x = curvePlace(curve, eta)
  const half = z * z * (covariance.both + x * covariance.slope)
  const rest = z * z * predictorVariance(curve, x)
  const root = Math.sqrt(half * half + lead * rest)
  const sum = half + (half < 0 ? -root : root)
  const [one, other] = sum === 0 ? [0, 0] : [sum / lead, -rest / sum]
  return x + (side === 'upper' ? Math.max(one, other) : Math.min(one, other))
}

/**
 * Standard error of x_p by linear propagation: sqrt(var eta(x_p))/|b1|. x_p + z times it is a number where nothing is
 * demonstrated, too: for comparison only, never the statement. source: dobson-barnett-2008, 7.3
 */
export const placeError = (curve: Curve, eta: number): number =>
  Math.sqrt(predictorVariance(curve, curvePlace(curve, eta))) / Math.abs(curve.slope)

export interface Interval {
  readonly lower: number
  readonly upper: number
}

/**
 * Interval of the chance of a hit at x by the profile of the likelihood with eta(x) held; each end is a one-sided bound.
 * Refuses: numerics/not-converged. source: cox-hinkley-1974, 9.3
 */
export function likelihoodShares(
  fit: BinaryFit,
  { x, criterion }: { readonly x: number; readonly criterion: number }
): Result<Interval, NumericsCode> {
  const z = (x - fit.tally.mean) / fit.tally.scale
  const eta = fit.intercept + fit.slope * x
  const found = bothSides(fit, {
    family: heightAt(z),
    from: eta,
    error: Math.sqrt(predictorVariance(fit, x)),
    criterion
  })
  if (isRefusal(found)) return found
  return { lower: linkShare(fit.link, found.lower), upper: linkShare(fit.link, found.upper) }
}

/** F(eta -+ z sqrt(var eta)): the pointwise bound of the curve by its covariance. source: mccullagh-nelder-1989, 4.4.5 */
export function waldShares(
  fit: Pick<BinaryFit, 'link' | keyof Curve>,
  { x, z }: { readonly x: number; readonly z: number }
): Interval {
  const eta = fit.intercept + fit.slope * x
  const reach = z * Math.sqrt(predictorVariance(fit, x))
  return { lower: linkShare(fit.link, eta - reach), upper: linkShare(fit.link, eta + reach) }
}

/**
 * Two-sided intervals of intercept and slope by the profile of the likelihood; criterion 3.84 = chi-square(0.95, 1) for
 * 95 %. Refuses: numerics/not-converged. source: venables-ripley-2002, 8.4
 */
export function profileIntervals(
  fit: BinaryFit,
  criterion: number
): Result<{ readonly intercept: Interval; readonly slope: Interval }, NumericsCode> {
  const { mean, scale } = fit.tally
  const { intercept: v00, slope: v11 } = fit.covariance
  const atZero = { family: heightAt(-mean / scale), from: fit.intercept, error: Math.sqrt(v00), criterion }
  const intercept = bothSides(fit, atZero)
  if (isRefusal(intercept)) return intercept
  const [, from] = standardized(fit).b
  const slope = bothSides(fit, { family: slopeHeld, from, error: scale * Math.sqrt(v11), criterion })
  if (isRefusal(slope)) return slope
  return { intercept, slope: { lower: slope.lower / scale, upper: slope.upper / scale } }
}

interface BothSides {
  readonly family: ReturnType<typeof heightAt>
  readonly from: number
  readonly error: number
  readonly criterion: number
}

function bothSides(fit: BinaryFit, { family, from, error, criterion }: BothSides): Result<Interval, NumericsCode> {
  const step = Math.sqrt(criterion) * error
  const lower = crossing({ from, step: -step, criterion, at: profileOf(fit, family) })
  if (isRefusal(lower)) return lower
  const upper = crossing({ from, step, criterion, at: profileOf(fit, family) })
  return isRefusal(upper) ? upper : { lower, upper }
}

function notRising({ slope }: Curve): Result<never, NumericsCode> {
  return refuse('numerics/not-rising', {
    found: `a slope of ${slope}`,
    needed: 'a chance of a hit that rises with x',
    remedy: 'check the order of the columns, the units and how hits are coded'
  })
}

function noBound(found: string, criterion: number): Result<never, NumericsCode> {
  return refuse('numerics/no-bound', {
    found,
    needed: `more than the criterion ${criterion}`,
    remedy: 'state that it is not demonstrated; more trials near the rise of the curve would tell'
  })
}
