import { isRefusal, type Result } from '../../refusal/index.ts'
import type { NumericsCode } from '../codes.ts'
import { log } from '../elementary.ts'
import { choleskyFactor, type SymmetricMatrix, solveSymmetric } from '../solve.ts'

/** y against a constant, columns, and factors whose levels shift it at random. */
export interface MixedData {
  readonly columns: readonly ArrayLike<number>[]
  readonly y: ArrayLike<number>
  /** for each factor the level of every row, whole numbers from 0 without gaps */
  readonly factors: readonly ArrayLike<number>[]
}

/** All that a mixed fit needs of its data: sums of products of [levels of all factors | constant, columns | y]. */
export interface Products {
  readonly rows: number
  /** constant and columns */
  readonly fixed: number
  /** levels of all factors */
  readonly random: number
  readonly starts: readonly { readonly from: number; readonly to: number }[]
  readonly sums: SymmetricMatrix
  /** of squares of y about its mean */
  readonly total: number
  readonly means: readonly number[]
  readonly spreads: readonly number[]
  readonly yMean: number
  /** sum of log spreads: what standardizing the columns took from log |X' V^-1 X|/2 */
  readonly logScale: number
}

/** Columns are standardized, y is centered. Throws RangeError for columns that do not fit. */
export function productsOf({ columns, y, factors }: MixedData): Products {
  const rows = y.length
  if ([...columns, ...factors].some((column) => column.length !== rows))
    throw new RangeError('the columns of a fit must have one length')
  const starts = startsOf(factors)
  const random = starts.at(-1)?.to ?? 0
  const [means, spreads] = [columns.map(meanOf), columns.map(spreadOf)]
  const yMean = meanOf(y)
  const size = random + columns.length + 2
  const values = new Float64Array(size * size)
  for (let i = 0; i < rows; i++) {
    const row = [
      ...factors.map((factor, k): Entry => [starts[k]!.from + factor[i]!, 1]),
      [random, 1] as Entry,
      ...columns.map((column, j): Entry => [random + 1 + j, (column[i]! - means[j]!) / spreads[j]!]),
      [size - 1, y[i]! - yMean] as Entry
    ]
    for (const [a, u] of row) for (const [b, v] of row) values[a * size + b]! += u * v
  }
  return {
    rows,
    fixed: columns.length + 1,
    random,
    starts,
    sums: { size, values },
    total: values[size * size - 1]!,
    means,
    spreads,
    yMean,
    logScale: spreads.reduce((sum, spread) => sum + log(spread), 0)
  }
}

type Entry = readonly [at: number, value: number]

function startsOf(factors: readonly ArrayLike<number>[]): Products['starts'] {
  let from = 0
  return factors.map((factor) => {
    const to = from + Array.from(factor).reduce((most, level) => Math.max(most, level), -1) + 1
    const span = { from, to }
    from = to
    return span
  })
}

const meanOf = (column: ArrayLike<number>): number =>
  Array.from(column).reduce((sum, value) => sum + value, 0) / column.length

function spreadOf(column: ArrayLike<number>): number {
  const mean = meanOf(column)
  const square = Array.from(column).reduce((sum, value) => sum + (value - mean) * (value - mean), 0)
  return Math.sqrt(square / column.length)
}

export interface Forms {
  /** Z' P Z */
  readonly levels: SymmetricMatrix
  /** Z' P y */
  readonly pull: Float64Array
  /** y' P y */
  readonly square: number
  /** log |V| less n log of the residual variance */
  readonly logLevels: number
  /** log |X' V^-1 X| plus p log of the residual variance */
  readonly logFixed: number
  /** X' V^-1 X and X' V^-1 y, of standardized columns */
  readonly fixedSums: SymmetricMatrix
  readonly fixedPull: Float64Array
}

/**
 * With V = s (I + Z D Z'), D the variances by the residual one s: U' V^-1 T s = U'T - U'Z R (I + R Z'Z R)^-1 R Z'T, R the
 * root of D; then the fixed columns are absorbed in the same way. source: searle-casella-mcculloch-1992, M.4
 */
export function formsAt(products: Products, variances: Float64Array): Result<Forms, NumericsCode> {
  const { sums, random, fixed, starts } = products
  const own = variances[0]!
  const roots = new Float64Array(random)
  for (const [k, { from, to }] of starts.entries()) roots.fill(Math.sqrt(variances[k + 1]! / own), from, to)
  const inner = innerOf(sums, roots)
  const factor = choleskyFactor(inner)
  if (isRefusal(factor)) return factor
  const behind = reduced(sums, { factor, size: random, at: 0, scale: roots })
  const middle = subOf(behind, random, fixed)
  const head = choleskyFactor(middle)
  if (isRefusal(head)) return head
  const left = reduced(behind, { factor: head, size: fixed, at: random, scale: undefined })
  const last = sums.size - 1
  const levels = subOf(left, 0, random)
  return {
    levels: { size: random, values: levels.values.map((value) => value / own) },
    pull: Float64Array.from({ length: random }, (_, i) => left.values[i * sums.size + last]! / own),
    square: left.values[last * sums.size + last]! / own,
    logLevels: logDeterminant(factor, random),
    logFixed: logDeterminant(head, fixed),
    fixedSums: { size: fixed, values: middle.values.map((value) => value / own) },
    fixedPull: Float64Array.from({ length: fixed }, (_, j) => behind.values[(random + j) * sums.size + last]! / own)
  }
}

function innerOf({ size, values }: SymmetricMatrix, roots: Float64Array): SymmetricMatrix {
  const n = roots.length
  const inner = new Float64Array(n * n)
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++) inner[i * n + j] = roots[i]! * values[i * size + j]! * roots[j]! + (i === j ? 1 : 0)
  return { size: n, values: inner }
}

function subOf({ size, values }: SymmetricMatrix, from: number, count: number): SymmetricMatrix {
  const sub = new Float64Array(count * count)
  for (let i = 0; i < count; i++)
    for (let j = 0; j < count; j++) sub[i * count + j] = values[(from + i) * size + from + j]!
  return { size: count, values: sub }
}

interface Block {
  readonly factor: Float64Array
  readonly size: number
  readonly at: number
  readonly scale: Float64Array | undefined
}

/** M - B' B, B = L^-1 (scaled rows of the block). */
function reduced(matrix: SymmetricMatrix, { factor, size, at, scale }: Block): SymmetricMatrix {
  const n = matrix.size
  const b = new Float64Array(size * n)
  for (let i = 0; i < size; i++) {
    for (let c = 0; c < n; c++) b[i * n + c] = (scale?.[i] ?? 1) * matrix.values[(at + i) * n + c]!
    for (let k = 0; k < i; k++) {
      const weight = factor[i * size + k]!
      if (weight !== 0) for (let c = 0; c < n; c++) b[i * n + c]! -= weight * b[k * n + c]!
    }
    for (let c = 0; c < n; c++) b[i * n + c]! /= factor[i * size + i]!
  }
  const values = Float64Array.from(matrix.values)
  for (let i = 0; i < size; i++)
    for (let r = 0; r < n; r++) {
      const weight = b[i * n + r]!
      if (weight !== 0) for (let c = 0; c < n; c++) values[r * n + c]! -= weight * b[i * n + c]!
    }
  return { size: n, values }
}

function logDeterminant(factor: Float64Array, size: number): number {
  let sum = 0
  for (let i = 0; i < size; i++) sum += log(factor[i * size + i]!)
  return 2 * sum
}

/** Coefficients of the columns as they were given, by generalized least squares, and their covariance. */
export function absorbed(
  { fixed, means, spreads, yMean }: Products,
  { fixedSums, fixedPull }: Forms
): Result<{ readonly coefficients: Float64Array; readonly covariance: SymmetricMatrix }, NumericsCode> {
  const solved = solveSymmetric(fixedSums, fixedPull)
  if (isRefusal(solved)) return solved
  const rows = Array.from({ length: fixed }, (_, j) => {
    const row = new Float64Array(fixed)
    row[j] = j === 0 ? 1 : 1 / spreads[j - 1]!
    if (j === 0) for (let k = 1; k < fixed; k++) row[k] = -means[k - 1]! / spreads[k - 1]!
    return row
  })
  const dot = (a: Float64Array, b: Float64Array): number => a.reduce((sum, value, i) => sum + value * b[i]!, 0)
  const coefficients = Float64Array.from(rows, (row, j) => dot(row, solved) + (j === 0 ? yMean : 0))
  const values = new Float64Array(fixed * fixed)
  for (const [j, row] of rows.entries()) {
    const column = solveSymmetric(fixedSums, row)
    if (isRefusal(column)) return column
    for (const [k, other] of rows.entries()) values[j * fixed + k] = dot(other, column)
  }
  return { coefficients, covariance: { size: fixed, values } }
}
