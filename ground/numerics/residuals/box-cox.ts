import { isRefusal, type Result } from '../../refusal/index.ts'
import { type NumericsCode, refuse } from '../codes.ts'
import { exp, expm1, log } from '../elementary.ts'
import { fitLine } from '../line.ts'
import { rootBetween } from '../root.ts'
import { chiSquareQuantile } from '../sampling.ts'

/** What a power of y makes of a line. */
export interface BoxCox {
  /** the best power: 0 is the logarithm, 1 none */
  readonly lambda: number
  readonly lower: number
  readonly upper: number
  readonly logLikelihood: number
  readonly atZero: number
  readonly atOne: number
}

interface Centered {
  readonly places: Float64Array
  readonly logs: Float64Array
  readonly mean: number
  /** sum of squared places */
  readonly spread: number
}

/** Profile of the likelihood and its derivative at a power. */
interface Height {
  readonly value: number
  readonly slope: number
}

const FARTHEST = 20

/**
 * The power of y for which a line in x fits best, with its interval by the profile of the likelihood:
 * l(lambda) = -n/2 log(RSS/n) + (lambda - 1) sum log y, RSS of (y^lambda - 1)/lambda against x.
 * Refuses: numerics/not-positive (a y that is not above zero), numerics/too-few-points, numerics/degenerate,
 * numerics/not-converged (no maximum or no end of the interval within ± 20). source: box-cox-1964
 */
export function boxCox(
  { x, y }: { readonly x: ArrayLike<number>; readonly y: ArrayLike<number> },
  confidence: number
): Result<BoxCox, NumericsCode> {
  const values = Array.from(y)
  const wrong = values.find((value) => !(value > 0))
  if (wrong !== undefined) return notPositive(wrong)
  const line = centered(x, values)
  if (isRefusal(line)) return line
  const at = (lambda: number): Height => heightAt(line, lambda)
  const [low, high] = [outward((l) => -at(l).slope, 1, -1), outward((l) => at(l).slope, 1, 1)]
  if (low === undefined || high === undefined) return unbounded()
  const lambda = rootBetween((l) => at(l).slope, { low, high })
  return withInterval(at, lambda, chiSquareQuantile({ tail: 'lower', share: confidence }, 1))
}

function withInterval(at: (l: number) => Height, lambda: number, criterion: number): Result<BoxCox, NumericsCode> {
  const top = at(lambda).value
  const left = (l: number): number => criterion - 2 * (top - at(l).value)
  const [low, high] = [outward(left, lambda, -1), outward(left, lambda, 1)]
  if (low === undefined || high === undefined) return unbounded()
  return {
    lambda,
    lower: rootBetween(left, { low, high: lambda }),
    upper: rootBetween(left, { low: lambda, high }),
    logLikelihood: top,
    atZero: at(0).value,
    atOne: at(1).value
  }
}

/** The first place on that side, in growing steps, where f is not above zero. */
function outward(f: (l: number) => number, from: number, side: 1 | -1): number | undefined {
  for (let way = 0.25; way < FARTHEST; way *= 1.5) if (!(f(from + side * way) > 0)) return from + side * way
  return undefined
}

/** x about its mean and ln y about its own, once for all powers: no power overflows, the fit's constant takes up the rest. */
function centered(x: ArrayLike<number>, y: readonly number[]): Result<Centered, NumericsCode> {
  const straight = fitLine({ x, y })
  if (isRefusal(straight)) return straight
  const about = (values: Float64Array): { readonly mean: number; readonly away: Float64Array } => {
    const mean = values.reduce((sum, value) => sum + value, 0) / values.length
    return { mean, away: values.map((value) => value - mean) }
  }
  const [places, logs] = [about(Float64Array.from(x)), about(Float64Array.from(y, log))]
  return { places: places.away, logs: logs.away, mean: logs.mean, spread: product(places.away, places.away) }
}

const product = (a: Float64Array, b: Float64Array): number => {
  let sum = 0
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!
  return sum
}

/** Residuals by a line through centered places: their columns are orthogonal, so that the fit needs two sums. */
function heightAt({ places, logs, mean, spread }: Centered, lambda: number): Height {
  const n = logs.length
  const z = logs.map((v) => power(v, lambda))
  const middle = z.reduce((sum, value) => sum + value, 0) / n
  const slope = product(places, z) / spread
  const residuals = z.map((value, i) => value - middle - slope * places[i]!)
  const rates = logs.map((v) => powerRate(v, lambda))
  const rest = product(residuals, residuals)
  return { value: -0.5 * n * log(rest / n) - n * mean, slope: (-n * product(residuals, rates)) / rest }
}

/** (e^(l v) - 1)/l */
const power = (v: number, l: number): number => (l === 0 ? v : expm1(l * v) / l)

/** Its derivative to l: v^2 (e^u (u - 1) + 1)/u^2 at u = l v, by its series where u is small. */
function powerRate(v: number, l: number): number {
  const u = l * v
  if (Math.abs(u) > 0.5) return (v * v * (exp(u) * (u - 1) + 1)) / (u * u)
  let term = 1
  let sum = 0
  for (let k = 0; k < 20; k++) {
    sum += term / (k + 2)
    term *= u / (k + 1)
  }
  return v * v * sum
}

function notPositive(value: number): Result<never, NumericsCode> {
  return refuse('numerics/not-positive', {
    found: `a value of ${value}`,
    needed: 'values above zero',
    remedy: 'state the limit below which nothing is read, and give such rows as below it'
  })
}

function unbounded(): Result<never, NumericsCode> {
  return refuse('numerics/not-converged', {
    found: `no best power with its interval within ${FARTHEST} of none`,
    needed: 'values that spread enough to tell powers apart',
    remedy: 'take values over a wider range'
  })
}
