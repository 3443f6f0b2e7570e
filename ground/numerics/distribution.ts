import { expOfMinusHalfSquare } from './elementary/exponential.ts'
import { exp, expm1, log, log1p } from './elementary.ts'

// Coefficients: reference/coefficients.py.
const INVERSE_ROOT_TAU = 0.3989422804014327
const HALF_LOG_TAU = 0.9189385332046728
const EULER = 0.5772156649015329
/** (1 + x) survival(x)/density(x) for x >= 0, Chebyshev series in t = (x - 2.5)/(x + 2.5). */
const MILLS = Float64Array.of(
  ...[1.1854497906176444, -0.150994673766869, -0.05672432069743631, 0.0249861431728527, -0.002155148867722715],
  ...[-0.0006778609122492289, 8.899397874800245e-5, 3.097379772947955e-5, -2.181050052417376e-6],
  ...[-1.7353415050941029e-6, -8.216194736959592e-8, 8.677146440777322e-8, 1.8382707304905414e-8],
  ...[-2.2266598577453667e-9, -1.6195417088759308e-9, -1.8097044731092306e-10, 7.408043896262965e-11],
  ...[3.0328015713300905e-11, 1.868477873966907e-12, -1.8578684475997512e-12, -6.440961115775091e-13],
  ...[-2.796636497664975e-14, 4.549779430521486e-14, 1.5886406983967843e-14, 9.093638771960219e-16],
  ...[-1.1216924873598469e-15, -4.443231602646823e-16, -4.3794659154331315e-17, 2.677996868620016e-17],
  ...[1.343242713250173e-17, 2.1501697069796805e-18]
)

/** Density of the standard normal. */
export const normalDensity = (x: number): number => INVERSE_ROOT_TAU * expOfMinusHalfSquare(x)

/** survival(x) / density(x) for x >= 0, relative error below 1e-15. */
export function millsRatio(x: number): number {
  const t = (x - 2.5) / (x + 2.5)
  let b1 = 0
  let b2 = 0
  for (let j = MILLS.length - 1; j > 0; j--) {
    const b = 2 * t * b1 - b2 + MILLS[j]!
    b2 = b1
    b1 = b
  }
  return (t * b1 - b2 + MILLS[0]!) / (1 + x)
}

/** P(Z > x) of the standard normal, relative error below 1e-14 down to the smallest normal double (x = 37.5). */
export function normalSurvival(x: number): number {
  if (Number.isNaN(x)) return x
  if (x > 39) return 0
  return x >= 0 ? normalDensity(x) * millsRatio(x) : 1 - normalSurvival(-x)
}

/** P(Z <= x) of the standard normal, relative error below 1e-14 in the lower tail as well. */
export const normalCumulative = (x: number): number => normalSurvival(-x)

/** P(0 < Z < x) for small x by its series, exact to rounding. */
function centralNormal(x: number): number {
  let term = x
  let sum = x
  for (let k = 3; k < 60; k += 2) {
    term *= (x * x) / k
    sum += term
  }
  return normalDensity(x) * sum
}

/**
 * x with P(Z <= x) = p, relative error below 1e-14; -Infinity at 0, Infinity at 1, NaN outside. Near 1 use
 * `normalUpperQuantile`, which takes the small share itself.
 */
export function normalQuantile(p: number): number {
  if (!(p >= 0 && p <= 1)) return Number.NaN
  if (p <= 0.25) return -tailQuantile(p)
  return p >= 0.75 ? tailQuantile(1 - p) : centralQuantile(p - 0.5)
}

/** x with P(Z > x) = q. */
export const normalUpperQuantile = (q: number): number => {
  const x = normalQuantile(q)
  return x === 0 ? 0 : -x
}

/** Halley steps on P(0 < Z < x) = share, |share| <= 1/4. */
function centralQuantile(share: number): number {
  let x = share / INVERSE_ROOT_TAU
  for (let i = 0; i < 4; i++) {
    const u = (centralNormal(x) - share) / normalDensity(x)
    x -= u / (1 + 0.5 * x * u)
  }
  return x
}

/** Newton steps on log survival(x) = log q, q <= 1/4, from a published start. source: abramowitz-stegun-1964 26.2.23 */
function tailQuantile(q: number): number {
  if (q === 0) return Number.POSITIVE_INFINITY
  const logShare = log(q)
  const t = Math.sqrt(-2 * logShare)
  let x = t - (2.515517 + t * (0.802853 + t * 0.010328)) / (1 + t * (1.432788 + t * (0.189269 + t * 0.001308)))
  for (let i = 0; i < 5; i++) {
    const ratio = millsRatio(x)
    x += (log(ratio) - 0.5 * x * x - HALF_LOG_TAU - logShare) * ratio
  }
  return x
}

/** P(X <= x) for chi-square with 2 degrees of freedom (the squared length of a standard normal pair). */
export const chiSquare2Cumulative = (x: number): number => (x > 0 ? -expm1(-0.5 * x) : Number.isNaN(x) ? x : 0)

/** P(X > x) for chi-square with 2 degrees of freedom. */
export const chiSquare2Survival = (x: number): number => (x > 0 ? exp(-0.5 * x) : Number.isNaN(x) ? x : 1)

/** x with P(X <= x) = p for chi-square with 2 degrees of freedom; NaN outside [0, 1]. */
export const chiSquare2Quantile = (p: number): number => (p >= 0 && p <= 1 ? -2 * log1p(-p) + 0 : Number.NaN)

/** x with P(X > x) = q for chi-square with 2 degrees of freedom; NaN outside [0, 1]. */
export const chiSquare2UpperQuantile = (q: number): number => (q >= 0 && q <= 1 ? -2 * log(q) + 0 : Number.NaN)

/**
 * e^z E1(z), E1(z) = integral from z to infinity of e^-t / t, for z > 0. Series below 1, continued fraction above.
 * source: abramowitz-stegun-1964 5.1.11, 5.1.22
 */
export function scaledExponentialIntegral(z: number): number {
  if (!(z > 0)) return Number.NaN
  return z < 1 ? exp(z) * exponentialIntegralSeries(z) : exponentialIntegralFraction(z)
}

function exponentialIntegralSeries(z: number): number {
  let sum = -EULER - log(z)
  let power = 1
  for (let k = 1; k < 25; k++) {
    power *= -z / k
    sum -= power / k
  }
  return sum
}

/** 1/(z + 1 - 1/(z + 3 - 4/(z + 5 - …))), evaluated backward. */
function exponentialIntegralFraction(z: number): number {
  let tail = z + 241
  for (let k = 120; k >= 1; k--) tail = z + 2 * k - 1 - (k * k) / tail
  return 1 / tail
}
