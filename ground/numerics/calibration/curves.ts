import { isRefusal, type Result } from '../../refusal/index.ts'
import { type NumericsCode, refuse } from '../codes.ts'
import { exp, log, pow } from '../elementary.ts'
import { leastSquares } from '../least-squares.ts'
import { fitLine } from '../line.ts'
import { fitNonlinear } from '../nonlinear/fit.ts'
import type { SymmetricMatrix } from '../solve.ts'
import type { Standards } from './inverse.ts'

/** Curves y of x of one kind. */
export interface CurveForm {
  /** y; its derivatives by the parameters go into `slopes` */
  readonly at: (x: number, parameters: Float64Array, slopes: Float64Array) => number
  /** dy/dx */
  readonly steepness: (x: number, parameters: Float64Array) => number
}

/** A calibration curve through standards, with what its inverse needs. */
export interface FittedCurve {
  readonly form: CurveForm
  readonly parameters: Float64Array
  /** of the parameters, scaled by sigma^2 */
  readonly covariance: SymmetricMatrix
  readonly sigma: number
  readonly dof: number
  /** the standards' own ends */
  readonly lowest: number
  readonly highest: number
}

/** y = c x^k, for x > 0. */
export const powerForm: CurveForm = {
  at: (x, [c = 0, k = 0], slopes) => {
    const power = pow(x, k)
    slopes[0] = power
    slopes[1] = c * power * log(x)
    return c * power
  },
  steepness: (x, [c = 0, k = 0]) => (k * c * pow(x, k)) / x
}

/** y = a x/(h + x): levels off at a, has half of it at h. */
export const saturatingForm: CurveForm = {
  at: (x, [a = 0, h = 0], slopes) => {
    const share = x / (h + x)
    slopes[0] = share
    slopes[1] = (-a * share) / (h + x)
    return a * share
  },
  steepness: (x, [a = 0, h = 0]) => ((a / (h + x)) * h) / (h + x)
}

/** y = b0 + b1 x + b2 x^2 + …, as many terms as parameters. */
export const polynomialForm: CurveForm = {
  at: (x, parameters, slopes) => {
    let [sum, power] = [0, 1]
    for (let k = 0; k < parameters.length; k++) {
      slopes[k] = power
      sum += parameters[k]! * power
      power *= x
    }
    return sum
  },
  steepness: (x, parameters) => parameters.reduceRight((sum, value, k) => (k === 0 ? sum : sum * x + k * value), 0)
}

/**
 * A curve of any kind by least squares of y, from a start; the scatter of y is taken to be of one size along the curve.
 * Refuses as `fitNonlinear`.
 */
export function fitCurve(
  form: CurveForm,
  { x, y }: Standards,
  start: ArrayLike<number>
): Result<FittedCurve, NumericsCode> {
  const fit = fitNonlinear({ y, start, model: (row, parameters, slopes) => form.at(x[row]!, parameters, slopes) })
  if (isRefusal(fit)) return fit
  const { parameters, covariance, sigma, dof } = fit
  return { form, parameters, covariance, sigma, dof, ...endsOf(x) }
}

/** A polynomial through standards. Refuses as `leastSquares`; throws RangeError for a degree that is none. */
export function fitPolynomial({ x, y }: Standards, degree: number): Result<FittedCurve, NumericsCode> {
  if (!(Number.isInteger(degree) && degree >= 1))
    throw new RangeError(`a degree is a whole number from 1, not ${degree}`)
  const columns = [Float64Array.from(x, () => 1)]
  for (let k = 0; k < degree; k++) columns.push(columns[k]!.map((value, i) => value * x[i]!))
  const fit = leastSquares({ columns, y })
  if (isRefusal(fit)) return fit
  const { coefficients, covariance, sigma, dof } = fit
  return { form: polynomialForm, parameters: coefficients, covariance, sigma, dof, ...endsOf(x) }
}

/**
 * y = c x^k by least squares of y itself (scatter of one size, not in proportion to y as a line through the logarithms has
 * it), from that line. Refuses numerics/not-positive (x or y not above zero), and as `fitCurve`.
 */
export function fitPower({ x, y }: Standards): Result<FittedCurve, NumericsCode> {
  const wrong = [...Array.from(x), ...Array.from(y)].find((value) => !(value > 0))
  if (wrong !== undefined) return notPositive(wrong)
  const line = fitLine({ x: Float64Array.from(x, log), y: Float64Array.from(y, log) })
  if (isRefusal(line)) return line
  return fitCurve(powerForm, { x, y }, [exp(line.intercept), line.slope])
}

/**
 * y = a x/(h + x) by least squares of y, from the line of x/y over x (its slope is 1/a, its intercept h/a).
 * Refuses numerics/not-positive, numerics/degenerate where the standards do not level off, and as `fitCurve`.
 */
export function fitSaturating({ x, y }: Standards): Result<FittedCurve, NumericsCode> {
  const wrong = [...Array.from(x), ...Array.from(y)].find((value) => !(value > 0))
  if (wrong !== undefined) return notPositive(wrong)
  const line = fitLine({ x, y: Float64Array.from(y, (value, i) => x[i]! / value) })
  if (isRefusal(line)) return line
  if (!(line.slope > 0 && line.intercept > 0)) return notLevel()
  const fit = fitCurve(saturatingForm, { x, y }, [1 / line.slope, line.intercept / line.slope])
  return isRefusal(fit) || (fit.parameters[0]! > 0 && fit.parameters[1]! > 0) ? fit : notLevel()
}

const largest = (values: ArrayLike<number>): number => Array.from(values).reduce((a, b) => Math.max(a, b))

const endsOf = (x: ArrayLike<number>): Pick<FittedCurve, 'lowest' | 'highest'> => ({
  lowest: Array.from(x).reduce((a, b) => Math.min(a, b)),
  highest: largest(x)
})

function notPositive(value: number): Result<never, NumericsCode> {
  return refuse('numerics/not-positive', {
    found: `a value of ${value}`,
    needed: 'standards and readings above zero',
    remedy: 'leave blanks out of the curve, or fit another one'
  })
}

function notLevel(): Result<never, NumericsCode> {
  return refuse('numerics/degenerate', {
    found: 'readings that do not level off',
    needed: 'readings that rise ever less with the standards',
    remedy: 'fit a line or a power, or add larger standards'
  })
}
