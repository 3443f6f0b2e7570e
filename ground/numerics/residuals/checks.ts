import { isRefusal, type Result } from '../../refusal/index.ts'
import { type NumericsCode, refuse } from '../codes.ts'
import { leastSquares, type RegressionFit } from '../least-squares.ts'
import { fitLine, type LinePoints } from '../line.ts'
import { chiSquareSurvival, fisherSurvival } from '../sampling.ts'
import { andersonDarling, LARGEST_FOR_W, type Statistic, shapiroWilk } from './normality.ts'

/** What the residuals of a least-squares line say of its assumptions. */
export interface ResidualChecks {
  /** n R^2 of the squared residuals against x: does the scatter change with x? source: koenker-1981 */
  readonly scatter: Statistic
  /** the same for normal errors. source: breusch-pagan-1979 */
  readonly scatterOfNormal: Statistic
  /** W of the residuals; undefined for more than 5000, for which its chance is not known */
  readonly normality: Statistic | undefined
  /** A^2 of the residuals; undefined for fewer than 8 */
  readonly tails: (Statistic & { readonly adjusted: number }) | undefined
  /** sum of squared steps between neighbors in x over the sum of squares; near 2 for no pattern. source: durbin-watson-1950 */
  readonly neighbors: number
  /** F of a term x^2 with 1 and n - 3 degrees of freedom: is the trend bent? */
  readonly bend: Statistic
  readonly largestStandardized: number
  readonly largestLeverage: number
  /** source: cook-1977 */
  readonly largestCook: number
}

/**
 * Checks of y = b0 + b1 x on uncensored points. Refuses as `fitLine`, and numerics/too-few-points below 4,
 * numerics/degenerate where x has two values only or no point is off the line. source: draper-smith-1998, 2 and 8
 */
export function residualChecks({ x, y }: LinePoints): Result<ResidualChecks, NumericsCode> {
  const line = fitLine({ x, y })
  if (isRefusal(line)) return line
  const bent = withSquare(x, y)
  if (isRefusal(bent)) return bent
  const n = x.length
  const columns = Array.from(x)
  const residuals = columns.map((at, i) => y[i]! - line.intercept - line.slope * at)
  if (residuals.every((r) => r === residuals[0])) return noneOff()
  const rest = sum(residuals.map((r) => r * r))
  const f = ((rest - bent.sigma * bent.sigma * bent.dof) * bent.dof) / (bent.sigma * bent.sigma * bent.dof)
  return {
    ...scatterTests(columns, residuals),
    normality: n > LARGEST_FOR_W ? undefined : shapiroWilk(residuals),
    tails: n < 8 ? undefined : andersonDarling(residuals),
    neighbors: neighborRatio(columns, residuals),
    bend: { statistic: f, chance: fisherSurvival(f, { above: 1, below: bent.dof }) },
    ...influence(columns, residuals)
  }
}

const noneOff = (): Result<never, NumericsCode> =>
  refuse('numerics/degenerate', {
    found: 'points that all lie on one line',
    needed: 'points that scatter',
    remedy: 'enter each reading as it was taken, none computed from a line'
  })

function withSquare(x: ArrayLike<number>, y: ArrayLike<number>): Result<RegressionFit, NumericsCode> {
  const mean = sum(Array.from(x)) / x.length
  const away = Array.from(x, (value) => value - mean)
  return leastSquares({ columns: [away.map(() => 1), away, away.map((value) => value * value)], y })
}

/** Squared residuals over their mean, u, against x: explained sum of squares/2 where errors are normal, else n R^2. */
function scatterTests(
  x: readonly number[],
  residuals: readonly number[]
): Pick<ResidualChecks, 'scatter' | 'scatterOfNormal'> {
  const n = x.length
  const square = sum(residuals.map((r) => r * r)) / n
  const u = residuals.map((r) => (r * r) / square - 1)
  const mean = sum(x) / n
  const away = x.map((value) => value - mean)
  const product = sum(away.map((value, i) => value * u[i]!))
  const explained = (product * product) / sum(away.map((value) => value * value))
  const test = (statistic: number): Statistic => ({ statistic, chance: chiSquareSurvival(statistic, 1) })
  return { scatter: test((n * explained) / sum(u.map((v) => v * v))), scatterOfNormal: test(0.5 * explained) }
}

function neighborRatio(x: readonly number[], residuals: readonly number[]): number {
  const order = x.map((_, i) => i).sort((i, j) => x[i]! - x[j]! || i - j)
  const along = order.map((i) => residuals[i]!)
  const steps = along.slice(1).map((r, i) => r - along[i]!)
  return sum(steps.map((step) => step * step)) / sum(along.map((r) => r * r))
}

function influence(
  x: readonly number[],
  residuals: readonly number[]
): Pick<ResidualChecks, 'largestStandardized' | 'largestLeverage' | 'largestCook'> {
  const n = x.length
  const mean = sum(x) / n
  const spread = sum(x.map((value) => (value - mean) * (value - mean)))
  const square = sum(residuals.map((r) => r * r)) / (n - 2)
  const leverage = x.map((value) => 1 / n + ((value - mean) * (value - mean)) / spread)
  const standardized = residuals.map((r, i) => r / Math.sqrt(square * (1 - leverage[i]!)))
  const cook = standardized.map((r, i) => (0.5 * r * r * leverage[i]!) / (1 - leverage[i]!))
  return {
    largestStandardized: largest(standardized.map(Math.abs)),
    largestLeverage: largest(leverage),
    largestCook: largest(cook)
  }
}

const largest = (values: readonly number[]): number => values.reduce((a, b) => Math.max(a, b))

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0)
