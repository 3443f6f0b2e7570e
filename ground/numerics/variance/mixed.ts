import { isRefusal, type Result } from '../../refusal/index.ts'
import { type NumericsCode, refuse } from '../codes.ts'
import { log } from '../elementary.ts'
import { choleskyFactor, type SymmetricMatrix, solveSymmetric } from '../solve.ts'
import { absorbed, type Forms, formsAt, type MixedData, type Products, productsOf } from './products.ts'

export interface MixedFit {
  /** the constant first, then one a column */
  readonly coefficients: Float64Array
  readonly covariance: SymmetricMatrix
  /** of the residual first, then one a factor; never below zero */
  readonly variances: Float64Array
  /** inverse of the expected information; a variance held at zero has zeros */
  readonly ofVariances: SymmetricMatrix
  readonly logLikelihood: number
  readonly steps: number
}

const MOST_STEPS = 300
/** gain in log-likelihood promised by the next step: 1e-11 standard errors */
const LAST_GAIN = 1e-22
const LOG_TAU = 1.8378770664093453

/**
 * Restricted maximum likelihood by Fisher scoring, halved while the likelihood falls; a variance that would become
 * negative is held at zero. Balanced or not; the work grows with the cube of the number of levels.
 * logLikelihood = -1/2 ((n - p) log 2 pi + log |V| + log |X' V^-1 X| + y' P y).
 * Refuses: numerics/too-few-points (rows not more than coefficients and factors), numerics/degenerate (columns or
 * factors that can not be told apart, readings without any scatter), numerics/not-converged.
 * source: patterson-thompson-1971; searle-casella-mcculloch-1992, 6.6, 8.3
 */
export function mixedFit(data: MixedData): Result<MixedFit, NumericsCode> {
  const products = productsOf(data)
  const { rows, fixed, starts, total } = products
  if (rows <= fixed + starts.length) return tooFew(rows, fixed + starts.length)
  if (!(total > 0)) return degenerate('readings that are all equal or none')
  let state = stateAt(products, new Float64Array(starts.length + 1).fill(total / (rows - fixed) / (starts.length + 1)))
  for (let steps = 1; steps <= MOST_STEPS; steps++) {
    if (isRefusal(state)) return state
    const step = stepFrom(state)
    if (isRefusal(step)) return step
    if (step.gain < LAST_GAIN) return fitFrom(products, state, steps)
    const next = taken(products, state, step.step)
    if (next === undefined) return step.gain < 1e-12 ? fitFrom(products, state, steps) : stuck(steps)
    state = next
  }
  return stuck(MOST_STEPS)
}

interface State {
  readonly variances: Float64Array
  readonly forms: Forms
  readonly value: number
  readonly score: Float64Array
  readonly information: Float64Array
}

function stateAt(products: Products, variances: Float64Array): Result<State, NumericsCode> {
  const forms = formsAt(products, variances)
  if (isRefusal(forms)) return forms
  const { rows, fixed } = products
  const value =
    -0.5 * ((rows - fixed) * (LOG_TAU + log(variances[0]!)) + forms.logLevels + forms.logFixed + forms.square)
  return { variances, forms, value, ...derivatives(products, variances, forms) }
}

/**
 * Score -1/2 (tr P Z Z' - |Z' P y|^2) and expected information 1/2 |Z_j' P Z_k|^2; those of the residual from
 * P V P = P and tr P V = n - p. source: searle-casella-mcculloch-1992, 6.6
 */
function derivatives(
  { rows, fixed, starts }: Products,
  variances: Float64Array,
  { levels, pull, square }: Forms
): Pick<State, 'score' | 'information'> {
  const size = starts.length + 1
  const own = variances[0]!
  const information = new Float64Array(size * size)
  const score = new Float64Array(size)
  let [trace, length] = [rows - fixed, square]
  for (let j = 1; j < size; j++) {
    const pulled = blockSquare(pull, starts[j - 1]!)
    const part = blockTrace(levels, starts[j - 1]!)
    score[j] = -0.5 * (part - pulled)
    trace -= variances[j]! * part
    length -= variances[j]! * pulled
    let beside = part
    for (let k = 1; k < size; k++) {
      const both = blockNorm(levels, starts[j - 1]!, starts[k - 1]!)
      information[j * size + k] = 0.5 * both
      beside -= variances[k]! * both
    }
    information[j] = information[j * size] = (0.5 * beside) / own
  }
  score[0] = (-0.5 * (trace - length)) / own
  let rest = trace / own
  for (let j = 1; j < size; j++) rest -= 2 * variances[j]! * information[j]!
  information[0] = (0.5 * rest) / own
  return { score, information }
}

interface Span {
  readonly from: number
  readonly to: number
}

function blockTrace({ size, values }: SymmetricMatrix, { from, to }: Span): number {
  let sum = 0
  for (let i = from; i < to; i++) sum += values[i * size + i]!
  return sum
}

function blockNorm({ size, values }: SymmetricMatrix, a: Span, b: Span): number {
  let sum = 0
  for (let i = a.from; i < a.to; i++)
    for (let j = b.from; j < b.to; j++) sum += values[i * size + j]! * values[i * size + j]!
  return sum
}

const blockSquare = (pull: Float64Array, { from, to }: Span): number =>
  pull.subarray(from, to).reduce((sum, value) => sum + value * value, 0)

/** Scoring step of the variances that are above zero or would rise. */
function stepFrom({
  variances,
  score,
  information
}: State): Result<{ readonly step: Float64Array; readonly gain: number }, NumericsCode> {
  const free = freeOf(variances, score)
  const solved = solveSymmetric(
    subMatrix({ size: variances.length, values: information }, free),
    Float64Array.from(free, (j) => score[j]!)
  )
  if (isRefusal(solved)) return degenerate('factors that can not be told apart from each other or from the residual')
  const step = new Float64Array(variances.length)
  for (const [i, j] of free.entries()) step[j] = solved[i]!
  return { step, gain: step.reduce((sum, value, j) => sum + value * score[j]!, 0) }
}

const freeOf = (variances: Float64Array, score: Float64Array): readonly number[] =>
  Array.from(variances, (_, j) => j).filter((j) => j === 0 || variances[j]! > 0 || score[j]! > 0)

function subMatrix({ size, values }: SymmetricMatrix, kept: readonly number[]): SymmetricMatrix {
  const n = kept.length
  return {
    size: n,
    values: Float64Array.from({ length: n * n }, (_, at) => values[kept[Math.floor(at / n)]! * size + kept[at % n]!]!)
  }
}

const ROUNDING = 1e-13

function taken(products: Products, state: State, step: Float64Array): State | undefined {
  const least = state.value - ROUNDING * (1 + Math.abs(state.value))
  for (let share = 1; share > 1e-12; share *= 0.5) {
    const next = state.variances.map((value, j) => Math.max(0, value + share * step[j]!))
    if (!(next[0]! > 0)) continue
    const there = stateAt(products, next)
    if (!isRefusal(there) && there.value >= least) return there
  }
  return undefined
}

function fitFrom(products: Products, state: State, steps: number): Result<MixedFit, NumericsCode> {
  const { variances, score, information, value } = state
  const free = freeOf(variances, score).filter((j) => j === 0 || variances[j]! > 0)
  const inverse = inverseOf(subMatrix({ size: variances.length, values: information }, free))
  if (isRefusal(inverse)) return inverse
  const size = variances.length
  const values = new Float64Array(size * size)
  for (const [i, j] of free.entries())
    for (const [k, l] of free.entries()) values[j * size + l] = inverse.values[i * free.length + k]!
  const fixed = absorbed(products, state.forms)
  if (isRefusal(fixed)) return fixed
  return { ...fixed, variances, ofVariances: { size, values }, logLikelihood: value - products.logScale, steps }
}

export function inverseOf(matrix: SymmetricMatrix): Result<SymmetricMatrix, NumericsCode> {
  const { size } = matrix
  const factor = choleskyFactor(matrix)
  if (isRefusal(factor)) return factor
  const values = new Float64Array(size * size)
  for (let j = 0; j < size; j++) {
    const unit = new Float64Array(size)
    unit[j] = 1
    const column = solveSymmetric(matrix, unit)
    if (isRefusal(column)) return column
    for (let i = 0; i < size; i++) values[i * size + j] = column[i]!
  }
  return { size, values }
}

function tooFew(rows: number, needed: number): Result<never, NumericsCode> {
  return refuse('numerics/too-few-points', {
    found: `${rows} rows`,
    needed: `more than ${needed}, the coefficients and the factors`,
    remedy: 'take more readings'
  })
}

function degenerate(found: string): Result<never, NumericsCode> {
  return refuse('numerics/degenerate', {
    found,
    needed: 'readings that scatter, and factors of which no two group the rows alike or each row by itself',
    remedy: 'leave a factor out, or repeat readings'
  })
}

function stuck(steps: number): Result<never, NumericsCode> {
  return refuse('numerics/not-converged', {
    found: `no end after ${steps} steps`,
    needed: 'steps that die out at one best fit',
    remedy: 'look at the data: the factors may hold too few levels'
  })
}
