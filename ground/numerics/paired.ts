import { isRefusal, type Result } from '../refusal/index.ts'
import { type NumericsCode, refuse } from './codes.ts'
import { fitLine } from './line.ts'
import { studentQuantile, studentTwoSided } from './sampling.ts'

/** Two ways of reading the same things, in one order. */
export interface Pairs {
  readonly first: readonly number[]
  readonly second: readonly number[]
}

interface Interval {
  readonly lower: number
  readonly upper: number
}

/** How two ways of reading differ: first less second. */
export interface PairedDifferences {
  readonly count: number
  readonly bias: number
  readonly biasInterval: Interval
  readonly deviation: number
  /** bias -+ width deviations, where nearly all differences lie */
  readonly limits: Interval
  /** standard error of a limit: sqrt(3 s^2/n) as published, and s sqrt(1/n + width^2/(2 (n - 1))) */
  readonly limitError: { readonly simple: number; readonly finer: number }
  /** by the finer error and t with n - 1 */
  readonly lowerLimit: Interval
  readonly upperLimit: Interval
  /** of the difference against the mean of both, and the chance of one as steep where there is none */
  readonly slope: number
  readonly slopeChance: number
  readonly correlation: number
  /** Lin's coefficient: 2 cov/(var + var + bias^2), divided by n throughout */
  readonly concordance: number
}

/** Neither has a default: 1.96 and 2 are both in use. */
export interface LimitsAsked {
  readonly width: number
  readonly confidence: number
}

const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length

const product = (a: readonly number[], b: readonly number[]): number =>
  a.reduce((sum, value, i) => sum + value * b[i]!, 0)

/**
 * Bias and limits of agreement of paired readings, normal differences of constant scatter taken for granted (logarithms
 * of readings give ratios). Refuses: numerics/too-few-points (below 3), numerics/degenerate (the means of all pairs are
 * equal, or a value is none). Throws RangeError for unequal columns. source: bland-altman-1986; lin-1989
 */
export function pairedDifferences(
  { first, second }: Pairs,
  { width, confidence }: LimitsAsked
): Result<PairedDifferences, NumericsCode> {
  const n = first.length
  if (second.length !== n) throw new RangeError('pairs are needed')
  if (![...first, ...second].every(Number.isFinite)) return notFinite()
  const d = first.map((value, i) => value - second[i]!)
  const trend = fitLine({ x: first.map((value, i) => 0.5 * (value + second[i]!)), y: d })
  if (isRefusal(trend)) return trend
  const bias = mean(d)
  const away = d.map((value) => value - bias)
  const deviation = Math.sqrt(product(away, away) / (n - 1))
  const t = studentQuantile(0.5 + 0.5 * confidence, n - 1)
  const limits = { lower: bias - width * deviation, upper: bias + width * deviation }
  const finer = deviation * Math.sqrt(1 / n + (width * width) / (2 * (n - 1)))
  const around = (center: number, error: number): Interval => ({ lower: center - t * error, upper: center + t * error })
  return {
    count: n,
    bias,
    biasInterval: around(bias, deviation / Math.sqrt(n)),
    deviation,
    limits,
    limitError: { simple: deviation * Math.sqrt(3 / n), finer },
    lowerLimit: around(limits.lower, finer),
    upperLimit: around(limits.upper, finer),
    slope: trend.slope,
    slopeChance: slopeChance(trend.slope, Math.sqrt(trend.covariance.slope), n - 2),
    ...together(first, second)
  }
}

/** 1 for no slope at all without scatter */
const slopeChance = (slope: number, error: number, dof: number): number =>
  slope === 0 ? 1 : studentTwoSided(slope / error, dof)

function together(
  first: readonly number[],
  second: readonly number[]
): Pick<PairedDifferences, 'correlation' | 'concordance'> {
  const [a, b] = [first, second].map((values) => values.map((value) => value - mean(values))) as [number[], number[]]
  const n = first.length
  const bias = mean(first) - mean(second)
  return {
    correlation: product(a, b) / Math.sqrt(product(a, a) * product(b, b)),
    concordance: (2 * product(a, b)) / (product(a, a) + product(b, b) + n * bias * bias)
  }
}

/** sqrt(sum d^2/n) of readings taken twice: spread of the difference of two readings of one kind. source: bland-altman-1986 */
export const repeatSpread = ({ first, second }: Pairs): number => {
  const d = first.map((value, i) => value - second[i]!)
  return Math.sqrt(product(d, d) / d.length)
}

function notFinite(): Result<never, NumericsCode> {
  return refuse('numerics/degenerate', {
    found: 'a reading that is no number',
    needed: 'pairs of readings',
    remedy: 'leave the pair out with its reason, or read it again'
  })
}
