import type { Result } from '../../refusal/index.ts'
import { type NumericsCode, refuse } from '../codes.ts'
import { normalCumulative, normalQuantile } from '../distribution.ts'
import type { Resamples } from './resamples.ts'

/** Where the share p of n values lies: at (n + 1) p (type 6) or 1 + (n - 1) p (type 7), counted from one. */
export const quantileTypes = [6, 7] as const
export type QuantileType = (typeof quantileTypes)[number]

export interface ResampleQuestion {
  /** share of the law below the bound: 0.95 for an upper bound at 95 % */
  readonly level: number
  readonly quantile: QuantileType
}

/**
 * The p-quantile of rising values, linear between them, no further than the first and last.
 * Throws RangeError for no values or p outside [0, 1]. source: hyndman-fan-1996
 */
export function quantileOfSorted(sorted: Float64Array, p: number, type: QuantileType): number {
  const n = sorted.length
  if (n === 0 || !(p >= 0 && p <= 1)) throw new RangeError(`the quantile ${p} of ${n} values`)
  const place = Math.min(Math.max(type === 7 ? (n - 1) * p : (n + 1) * p - 1, 0), n - 1)
  const below = Math.floor(place)
  const [a, b] = [sorted[below]!, sorted[Math.min(below + 1, n - 1)]!]
  return a + (place - below) * (b - a)
}

/** The share of the resamples itself. source: efron-tibshirani-1993, 13.3 */
export const percentileBound = ({ sorted }: Resamples, { level, quantile }: ResampleQuestion): number =>
  quantileOfSorted(sorted, level, quantile)

/** The other share mirrored at the estimate: 2 t - q(1 - level). source: davison-hinkley-1997, 5.2 */
export const basicBound = ({ sorted, estimate }: Resamples, { level, quantile }: ResampleQuestion): number =>
  2 * estimate - quantileOfSorted(sorted, 1 - level, quantile)

/** The bound with what its level was corrected by. */
export interface AcceleratedBound {
  readonly value: number
  /** z0, normal quantile of the share of resamples below the estimate */
  readonly bias: number
  /** sum L^3/(6 (sum L^2)^(3/2)), L = mean - value with one flaw left out */
  readonly acceleration: number
  /** share of the resamples that is taken */
  readonly level: number
}

/**
 * The share Phi(z0 + (z0 + z)/(1 - a (z0 + z))) of the resamples, z the normal quantile of the level: corrected for bias
 * and acceleration. `leftOut` as `leaveOneOut` gives it. Refuses: numerics/degenerate where all resamples lie on one
 * side, where no flaw matters, or where the correction goes beyond all shares. source: efron-tibshirani-1993, 14.3
 */
export function acceleratedBound(
  { sorted, estimate }: Resamples,
  leftOut: Float64Array,
  { level, quantile }: ResampleQuestion
): Result<AcceleratedBound, NumericsCode> {
  const below = sorted.findIndex((value) => value >= estimate)
  if (below <= 0) return oneSided()
  const bias = normalQuantile(below / sorted.length)
  const acceleration = accelerationOf(leftOut)
  const z = bias + normalQuantile(level)
  const left = 1 - acceleration * z
  if (!(left > 0)) return beyondAll(acceleration)
  const taken = normalCumulative(bias + z / left)
  return { value: quantileOfSorted(sorted, taken, quantile), bias, acceleration, level: taken }
}

function accelerationOf(leftOut: Float64Array): number {
  const mean = leftOut.reduce((sum, value) => sum + value, 0) / leftOut.length
  const square = leftOut.reduce((sum, value) => sum + (mean - value) * (mean - value), 0)
  const cube = leftOut.reduce((sum, value) => sum + (mean - value) * (mean - value) * (mean - value), 0)
  return cube / (6 * square * Math.sqrt(square))
}

const oneSided = (): Result<never, NumericsCode> =>
  refuse('numerics/degenerate', {
    found: 'all resamples on one side of the estimate',
    needed: 'resamples below and above it',
    remedy: 'take a bound that needs no resamples'
  })

const beyondAll = (acceleration: number): Result<never, NumericsCode> =>
  refuse('numerics/degenerate', {
    found: `an acceleration of ${acceleration}, by which no share of the resamples is the bound`,
    needed: 'flaws of which no single one decides the figure',
    remedy: 'take a bound that needs no resamples, and look at the flaw that decides'
  })
