import { type FftTables, fftKernel } from './fft.kernel.ts'
import { unitRoot } from './unit-root.ts'

/**
 * A transform of one length, with its tables. Both directions work in place on two columns of that length, change
 * nothing else, and give the same bits for the same input everywhere.
 */
export interface Fft {
  readonly length: number
  /** X[k] = sum over t of x[t] exp(-2 pi i k t / n). */
  readonly forward: (re: Float64Array, im: Float64Array) => void
  /** x[t] = 1/n sum over k of X[k] exp(+2 pi i k t / n). */
  readonly inverse: (re: Float64Array, im: Float64Array) => void
}

/**
 * Plans complex transforms of `length` points, a power of two (1 … 2^28). Throws RangeError for another length, and
 * when a column of another length is given. source: cooley-tukey-1965
 */
export function planFft(length: number): Fft {
  const tables = knownTables(length)
  const forward = (re: Float64Array, im: Float64Array): void => {
    checkColumns(length, re, im)
    fftKernel(tables, re, im)
  }
  const inverse = (re: Float64Array, im: Float64Array): void => {
    checkColumns(length, re, im)
    fftKernel(tables, im, re)
    const scale = 1 / length
    for (let i = 0; i < length; i++) {
      re[i] = re[i]! * scale
      im[i] = im[i]! * scale
    }
  }
  return { length, forward, inverse }
}

function checkColumns(length: number, re: Float64Array, im: Float64Array): void {
  if (re.length === length && im.length === length && re !== im) return
  throw new RangeError(`two columns of ${length} values are needed, not ${re.length} and ${im.length}`)
}

const known = new Map<number, FftTables>()

/** The tables of one length are the same each time, and nobody changes them: short ones are made once. */
function knownTables(length: number): FftTables {
  const tables = known.get(length) ?? fftTables(length)
  if (length <= LONGEST_KEPT) known.set(length, tables)
  return tables
}

const LONGEST_KEPT = 4096

function fftTables(length: number): FftTables {
  const bits = 31 - Math.clz32(length)
  if (length < 1 || bits > 28 || length !== 1 << bits) {
    throw new RangeError(`a transform needs a power of two as its length, not ${length}`)
  }
  const odd = bits % 2 === 1
  return { length, odd, swaps: bitReversalSwaps(bits), twiddles: twiddleTable(length, odd) }
}

function bitReversalSwaps(bits: number): Uint32Array {
  const swaps: number[] = []
  for (let i = 0, j = 0; i < 1 << bits; i++) {
    if (i < j) swaps.push(i, j)
    let carry = (1 << bits) >> 1
    for (; carry > 0 && (j & carry) !== 0; carry >>= 1) j ^= carry
    j |= carry
  }
  return Uint32Array.from(swaps)
}

function twiddleTable(length: number, odd: boolean): Float64Array {
  const rows: Float64Array[] = []
  for (let quarter = odd ? 2 : 4; quarter < length; quarter *= 4) rows.push(stageTwiddles(quarter))
  const table = new Float64Array(rows.reduce((sum, row) => sum + row.length, 0))
  let at = 0
  for (const row of rows) {
    table.set(row, at)
    at += row.length
  }
  return table
}

function stageTwiddles(quarter: number): Float64Array {
  const row = new Float64Array(6 * quarter)
  for (let j = 0; j < quarter; j++) {
    for (let m = 1; m <= 3; m++) {
      const [c, s] = unitRoot(m * j, 4 * quarter)
      row[6 * j + 2 * m - 2] = c
      row[6 * j + 2 * m - 1] = -s
    }
  }
  return row
}
