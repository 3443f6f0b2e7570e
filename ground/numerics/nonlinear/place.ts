import * as kernel from '../least-squares.kernel.ts'

/**
 * The value of the model in one row, its derivatives by each parameter written into `slopes`. Not finite where the
 * parameters have no value there: such a step is taken back.
 */
export type Model = (row: number, parameters: Float64Array, slopes: Float64Array) => number

/** y against a model of parameters from where the search begins. `weights` are inverse variances up to a factor. */
export interface NonlinearRegression {
  readonly y: ArrayLike<number>
  readonly start: ArrayLike<number>
  readonly model: Model
  readonly weights?: ArrayLike<number>
}

/** What is known at one choice of parameters; all columns times the roots of the weights. */
export interface Place {
  readonly parameters: Float64Array
  /** y less the model */
  readonly residuals: Float64Array
  /** derivatives of the model, one column a parameter */
  readonly slopes: kernel.Columns
}

/** Undefined where the model or a derivative is not finite in a row. */
export function placeAt({ y, model, weights }: NonlinearRegression, parameters: Float64Array): Place | undefined {
  const [rows, count] = [y.length, parameters.length]
  const residuals = new Float64Array(rows)
  const values = new Float64Array(rows * count)
  const slopes = new Float64Array(count)
  let isSound = true
  for (let i = 0; i < rows; i++) {
    const root = Math.sqrt(weights?.[i] ?? 1)
    residuals[i] = (y[i]! - model(i, parameters, slopes)) * root
    for (let j = 0; j < count; j++) values[j * rows + i] = slopes[j]! * root
    isSound &&= Number.isFinite(residuals[i]) && slopes.every(Number.isFinite)
  }
  return isSound ? { parameters, residuals, slopes: { rows, count, values } } : undefined
}

/** A place with its columns divided by `scale` and turned into a triangle. */
export interface Triangle {
  readonly qr: kernel.HouseholderFactors
  /** Q' residuals */
  readonly turned: Float64Array
  readonly scale: Float64Array
  /** share of the residuals that a step along the tangent plane would take away, as a length */
  readonly offset: number
}

export function triangleAt({ residuals, slopes }: Place, scale: Float64Array): Triangle {
  const { rows, count } = slopes
  const values = slopes.values.map((value, at) => value / scale[Math.floor(at / rows)]!)
  const qr = kernel.householder({ rows, count, values })
  const turned = Float64Array.from(residuals)
  kernel.applyTransposed(qr, turned)
  const whole = lengthOf(residuals)
  return { qr, turned, scale, offset: whole === 0 ? 0 : lengthOf(turned.subarray(0, count)) / whole }
}

/** The largest length that each column of slopes has had so far; 1 for a column of zeros. source: more-1978 */
export function scaleAt({ slopes }: Place, before?: Float64Array): Float64Array {
  const { rows, count, values } = slopes
  return Float64Array.from({ length: count }, (_, j) => {
    const length = Math.max(lengthOf(values.subarray(j * rows, (j + 1) * rows)), before?.[j] ?? 0)
    return length > 0 && length < Number.POSITIVE_INFINITY ? length : 1
  })
}

export interface Step {
  readonly by: Float64Array
  /** fall of the sum of squares if the model were straight, with half of what the damping holds back */
  readonly expected: number
}

/**
 * The step that minimizes |residuals - slopes by|^2 + damping |scale by|^2, by a second triangle below the first; never by
 * normal equations. source: more-1978
 */
export function dampedStep({ qr, turned, scale }: Triangle, damping: number): Step {
  const { count } = qr
  const tall = tallBelow(qr, Math.sqrt(damping))
  const by = new Float64Array(2 * count)
  by.set(turned.subarray(0, count))
  kernel.applyTransposed(tall, by)
  kernel.solveUpper(tall, by)
  const scaled = by.slice(0, count)
  const along = lengthOf(timesUpper(qr, scaled))
  const held = lengthOf(scaled)
  return { by: scaled.map((value, j) => value / scale[j]!), expected: along * along + 2 * damping * held * held }
}

/** R with a diagonal below it, as a triangle again. */
function tallBelow(qr: kernel.HouseholderFactors, diagonal: number): kernel.HouseholderFactors {
  const n = qr.count
  const values = new Float64Array(2 * n * n)
  for (let j = 0; j < n; j++) {
    for (let i = 0; i <= j; i++) values[j * 2 * n + i] = upper(qr, i, j)
    values[j * 2 * n + n + j] = diagonal
  }
  return kernel.householder({ rows: 2 * n, count: n, values })
}

const upper = ({ diagonal, values, rows }: kernel.HouseholderFactors, i: number, j: number): number =>
  i === j ? diagonal[j]! : values[j * rows + i]!

const timesUpper = (qr: kernel.HouseholderFactors, by: Float64Array): Float64Array =>
  by.map((_, i) => by.reduce((sum, value, j) => (j < i ? sum : sum + upper(qr, i, j) * value), 0))

export function lengthOf(column: Float64Array): number {
  let square = 0
  for (let i = 0; i < column.length; i++) square += column[i]! * column[i]!
  return Math.sqrt(square)
}
