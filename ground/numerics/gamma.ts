import { log, log1p } from './elementary.ts'

// Coefficients: reference/special.py prints them (exact numbers rounded once).
const ONE_MINUS_EULER = 0.42278433509846713
const HALF_LOG_TAU = 0.9189385332046728
/** (-1)^k (zeta(k) - 1)/k from k = 2 */
const ZETA = Float64Array.of(
  ...[0.3224670334241132, -0.0673523010531981, 0.020580808427784546, -0.007385551028673986, 0.0028905103307415234],
  ...[-0.001192753911703261, 0.0005096695247430425, -0.00022315475845357939, 9.945751278180853e-5],
  ...[-4.492623673813314e-5, 2.050721277567069e-5, -9.439488275268397e-6, 4.374866789907488e-6],
  ...[-2.039215753801366e-6, 9.55141213040742e-7, -4.492469198764566e-7, 2.1207184805554665e-7],
  ...[-1.0043224823968099e-7, 4.7698101693639804e-8, -2.2711094608943164e-8, 1.0838659214896955e-8],
  ...[-5.183475041970047e-9, 2.4836745438024785e-9, -1.1921401405860912e-9, 5.731367241678862e-10]
)
/** B(2k)/(2k(2k - 1)) from k = 1 */
const STIRLING = Float64Array.of(
  ...[1 / 12, -1 / 360, 1 / 1260, -1 / 1680, 1 / 1188, -691 / 360360, 1 / 156, -3617 / 122400, 43867 / 244188]
)
/** B(2k)/(2k) from k = 1 */
const DIGAMMA = Float64Array.of(1 / 12, -1 / 120, 1 / 252, -1 / 240, 1 / 132, -691 / 32760, 1 / 12)
const FAR = 8

const horner = (coefficients: Float64Array, x: number): number =>
  coefficients.reduceRight((sum, coefficient) => sum * x + coefficient, 0)

/**
 * log of the gamma function for x > 0, relative error below 1e-14, also beside its zeros 1 and 2.
 * Series about 2, recurrence, and Stirling's series from 8. Throws RangeError for x <= 0.
 * source: abramowitz-stegun-1964, 6.1.33, 6.1.15, 6.1.41
 */
export function logGamma(x: number): number {
  if (Number.isNaN(x)) return x
  if (!(x > 0)) throw new RangeError(`the logarithm of gamma is taken of positive numbers, not of ${x}`)
  if (x < 0.5) return aboutTwo(x) - log1p(x) - log(x)
  if (x < 1.5) return aboutTwo(x - 1) - log1p(x - 1)
  return x < FAR ? loweredToTwo(x) : (x - 0.5) * log(x) - x + HALF_LOG_TAU + horner(STIRLING, 1 / (x * x)) / x
}

/** log gamma(2 + z), |z| <= 1/2 */
const aboutTwo = (z: number): number => z * (ONE_MINUS_EULER + z * horner(ZETA, z))

/** log gamma(1 + z) for 0 <= z <= 1, relative error below 1e-14 where z is small as well. */
export const logGammaAboveOne = (z: number): number => (z <= 0.5 ? aboutTwo(z) - log1p(z) : logGamma(1 + z))

function loweredToTwo(x: number): number {
  let product = 1
  let low = x
  while (low > 2.5) {
    low -= 1
    product *= low
  }
  return aboutTwo(low - 2) + log(product)
}

/**
 * What Stirling's formula lacks: log(x!) - (x + 1/2) log x + x - log(2 pi)/2, for real x > 0, absolute error below 1e-14.
 * source: loader-2000, 2; abramowitz-stegun-1964, 6.1.41
 */
export const stirlingError = (x: number): number =>
  x >= FAR ? horner(STIRLING, 1 / (x * x)) / x : logGamma(x + 1) - (x + 0.5) * log(x) + x - HALF_LOG_TAU

/**
 * Derivative of `logGamma`, x > 0; error below 1e-14 of the value or 1e-14 near the zero at 1.46, whichever is larger.
 * Throws RangeError for x <= 0. source: abramowitz-stegun-1964, 6.3.5, 6.3.18
 */
export function digamma(x: number): number {
  if (Number.isNaN(x)) return x
  if (!(x > 0)) throw new RangeError(`digamma is taken of positive numbers, not of ${x}`)
  let below = 0
  let high = x
  for (; high < 12; high += 1) below += 1 / high
  const square = 1 / (high * high)
  return log(high) - 0.5 / high - square * horner(DIGAMMA, square) - below
}
