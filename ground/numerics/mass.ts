import { exp, log, log1p, TAU } from './elementary.ts'
import { stirlingError } from './gamma.ts'

/** Successes and failures of a binomial law, real numbers > 0 allowed. */
export interface Counts {
  readonly successes: number
  readonly failures: number
}

/** Chance of success and of failure, both given so that neither loses digits: they add up to 1. */
export interface Chances {
  readonly success: number
  readonly failure: number
}

/**
 * Poisson weight mean^k e^-mean / k! for real k >= 0, mean >= 0. The saddle-point form keeps digits where k is large.
 * source: loader-2000, 4
 */
export function poissonMass(k: number, mean: number): number {
  if (mean === 0) return k === 0 ? 1 : 0
  if (mean === Number.POSITIVE_INFINITY) return 0
  if (k === 0) return exp(-mean)
  return exp(-stirlingError(k) - deviance(k, mean)) / Math.sqrt(TAU * k)
}

/**
 * Binomial weight (a + b)!/(a! b!) p^a q^b for real a, b >= 0. The saddle-point form keeps digits where a + b is large.
 * source: loader-2000, 3
 */
export function binomialMass({ successes: a, failures: b }: Counts, { success: p, failure: q }: Chances): number {
  if (p === 0 || q === 0) return (p === 0 ? a : b) === 0 ? 1 : 0
  if (a === 0) return powerOfRest(b, p, q)
  if (b === 0) return powerOfRest(a, q, p)
  const n = a + b
  const lack = stirlingError(n) - stirlingError(a) - stirlingError(b)
  return exp(lack - deviance(a, n * p) - deviance(b, n * q)) * Math.sqrt(n / a / (TAU * b))
}

/** base^k, where small = 1 - base may be the one that is known to all digits */
const powerOfRest = (k: number, small: number, base: number): number =>
  exp(k * (small < 0.5 ? log1p(-small) : log(base)))

/** x log(x/mean) + mean - x, by a series where x is near the mean. source: loader-2000, 5 */
function deviance(x: number, mean: number): number {
  if (Math.abs(x - mean) >= 0.1 * (x + mean)) return x * log(x / mean) + mean - x
  const v = (x - mean) / (x + mean)
  let sum = (x - mean) * v
  let term = 2 * x * v
  for (let j = 3; ; j += 2) {
    term *= v * v
    const next = sum + term / j
    if (next === sum) return sum
    sum = next
  }
}
