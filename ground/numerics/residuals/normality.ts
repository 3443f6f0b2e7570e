import { normalCumulative, normalQuantile, normalSurvival } from '../distribution.ts'
import { asin, exp, log, log1p } from '../elementary.ts'

/** A statistic with the chance of one as far out or farther where the hypothesis holds. */
export interface Statistic {
  readonly statistic: number
  readonly chance: number
}

/** Up to so many values W and its chance are approximated. source: royston-1995 */
export const LARGEST_FOR_W = 5000
// Coefficients of the approximations, constant first. source: royston-1995
const FIRST = [0, 0.221157, -0.147981, -2.07119, 4.434685, -2.706056]
const SECOND = [0, 0.042981, -0.293762, -1.752461, 5.682633, -3.582633]
const SMALL_LIMIT = [-2.273, 0.459]
const SMALL_MEAN = [0.544, -0.39978, 0.025054, -6.714e-4]
const SMALL_SPREAD = [1.3822, -0.77857, 0.062767, -0.0020322]
const LARGE_MEAN = [-1.5861, -0.31082, -0.083751, 0.0038915]
const LARGE_SPREAD = [-0.4803, -0.082676, 0.0030302]

const polynomial = (coefficients: readonly number[], x: number): number =>
  coefficients.reduceRight((sum, c) => sum * x + c, 0)

/**
 * Shapiro and Wilk's W = squared correlation of the sorted values with expected normal order statistics (approximated),
 * and its chance. 3 to 5000 values that are not all equal (RangeError else). source: shapiro-wilk-1965; royston-1995
 */
export function shapiroWilk(values: ArrayLike<number>): Statistic {
  const sorted = sortedFrom(values, 3)
  const n = sorted.length
  if (n > LARGEST_FOR_W) throw new RangeError(`W is approximated up to ${LARGEST_FOR_W} values, not for ${n}`)
  const weights = orderWeights(n)
  const mean = sorted.reduce((sum, value) => sum + value, 0) / n
  const weighted = sorted.reduce((sum, value, i) => sum + weights[i]! * (value - mean), 0)
  const square = sorted.reduce((sum, value) => sum + (value - mean) * (value - mean), 0)
  const own = weights.reduce((sum, weight) => sum + weight * weight, 0)
  const length = Math.sqrt(square * own)
  const rest = ((length - weighted) * (length + weighted)) / (square * own)
  return { statistic: 1 - rest, chance: chanceOfRest(rest, n) }
}

/** Weights of all n sorted values: antisymmetric, the last ones positive. */
function orderWeights(n: number): readonly number[] {
  const upper = n === 3 ? [Math.SQRT1_2] : largestWeights(n)
  const middle = n % 2 === 1 ? [0] : []
  return [...upper.map((weight) => -weight), ...middle, ...upper.toReversed()]
}

/** The weights of the upper half, the largest value's first. */
function largestWeights(n: number): readonly number[] {
  const half = Math.floor(n / 2)
  const m = Array.from({ length: half }, (_, i) => -normalQuantile((i + 1 - 0.375) / (n + 0.25)))
  const total = 2 * m.reduce((sum, value) => sum + value * value, 0)
  const root = 1 / Math.sqrt(n)
  const heads = [FIRST, SECOND]
    .slice(0, n > 5 ? 2 : 1)
    .map((coefficients, i) => polynomial(coefficients, root) + m[i]! / Math.sqrt(total))
  const left = heads.reduce((sum, _, i) => sum - 2 * m[i]! * m[i]!, total)
  const share = heads.reduce((sum, a) => sum - 2 * a * a, 1)
  const factor = Math.sqrt(left / share)
  return m.map((value, i) => heads[i] ?? value / factor)
}

/** Chance of a W as low, from 1 - W. */
function chanceOfRest(rest: number, n: number): number {
  if (n === 3) return Math.max(0, (6 / Math.PI) * (asin(Math.sqrt(1 - rest)) - Math.PI / 3))
  const far = log(rest)
  if (n > 11) {
    const size = log(n)
    return normalSurvival((far - polynomial(LARGE_MEAN, size)) / exp(polynomial(LARGE_SPREAD, size)))
  }
  const limit = polynomial(SMALL_LIMIT, n)
  if (far >= limit) return 0
  return normalSurvival((-log(limit - far) - polynomial(SMALL_MEAN, n)) / exp(polynomial(SMALL_SPREAD, n)))
}

/**
 * Anderson and Darling's A^2 for normal values of unknown mean and spread; `adjusted` = A^2 (1 + 0.75/n + 2.25/n^2) and
 * its chance by a published approximation. 8 values or more that are not all equal (RangeError else).
 * source: stephens-1974; dagostino-stephens-1986, table 4.9
 */
export function andersonDarling(values: ArrayLike<number>): Statistic & { readonly adjusted: number } {
  const sorted = sortedFrom(values, 8)
  const n = sorted.length
  const mean = sorted.reduce((sum, value) => sum + value, 0) / n
  const spread = Math.sqrt(sorted.reduce((sum, value) => sum + (value - mean) * (value - mean), 0) / (n - 1))
  const z = sorted.map((value) => (value - mean) / spread)
  const sum = z.reduce((total, low, i) => total + (2 * i + 1) * (logCumulative(low) + logCumulative(-z[n - 1 - i]!)), 0)
  const statistic = -n - sum / n
  const adjusted = statistic * (1 + 0.75 / n + 2.25 / (n * n))
  return { statistic, adjusted, chance: Math.min(1, chanceOfAdjusted(adjusted)) }
}

const logCumulative = (z: number): number => (z < 0 ? log(normalCumulative(z)) : log1p(-normalSurvival(z)))

function chanceOfAdjusted(a: number): number {
  if (a >= 0.6) return exp(1.2937 - a * (5.709 - 0.0186 * Math.min(a, 150)))
  if (a > 0.34) return exp(0.9177 - a * (4.279 + 1.38 * a))
  if (a > 0.2) return 1 - exp(-8.318 + a * (42.796 - 59.938 * a))
  return 1 - exp(-13.436 + a * (101.14 - 223.73 * a))
}

function sortedFrom(values: ArrayLike<number>, least: number): readonly number[] {
  const sorted = Float64Array.from(values).sort()
  if (sorted.length < least || !(sorted.at(-1)! > sorted[0]!))
    throw new RangeError(`${least} values that are not all equal are needed, not ${sorted.length}`)
  return Array.from(sorted)
}
