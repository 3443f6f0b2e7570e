import { isRefusal, type Result } from '../../refusal/index.ts'
import { type NumericsCode, refuse } from '../codes.ts'
import { exp, expm1, log } from '../elementary.ts'
import { leastSquares, type RegressionFit } from '../least-squares.ts'
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

interface Line {
  readonly x: readonly number[]
  readonly logs: readonly number[]
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
  const line = { x: Array.from(x), logs: values.map(log) }
  const trial = heightAt(line, 1)
  if (isRefusal(trial)) return trial
  const at = (lambda: number): Height => sound(heightAt(line, lambda))
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

/** y by its geometric mean, so that no power overflows: the constant of the fit takes up what that changes. */
function heightAt({ x, logs }: Line, lambda: number): Result<Height, NumericsCode> {
  const n = x.length
  const mean = logs.reduce((sum, value) => sum + value, 0) / n
  const away = logs.map((value) => value - mean)
  const z = away.map((v) => power(v, lambda))
  const rate = away.map((v) => powerRate(v, lambda))
  const [fit, other] = [lineThrough(x, z), lineThrough(x, rate)]
  if (isRefusal(fit)) return fit
  if (isRefusal(other)) return other
  const rest = fit.residuals.reduce((sum, r) => sum + r * r, 0)
  const product = fit.residuals.reduce((sum, r, i) => sum + r * rate[i]!, 0)
  return { value: -0.5 * n * log(rest / n) - n * mean, slope: (-n * product) / rest }
}

const lineThrough = (x: readonly number[], y: readonly number[]): Result<RegressionFit, NumericsCode> =>
  leastSquares({ columns: [x.map(() => 1), x], y })

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

function sound(height: Result<Height, NumericsCode>): Height {
  if (isRefusal(height)) throw new RangeError(height.found)
  return height
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
