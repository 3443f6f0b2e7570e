/** Rows of plain numbers, straight from bytes. */

/** What a cell of a row is for: the slot of its column, or one of these. */
export const SKIP = -1
/** needs the slow way (a clock, a complex number) */
export const SLOW = -2

export interface RowPlan {
  readonly separator: number
  readonly decimal: number
  /** one entry a cell */
  readonly slots: Int32Array
  readonly longest: number
}

/** Complete lines: `bytes[to - 1]` is a line end. */
export interface Region {
  readonly bytes: Uint8Array
  readonly from: number
  readonly to: number
}

/** Where rows go. `values[slot * capacity + row]`. */
export interface RowSink {
  readonly capacity: number
  readonly values: Float64Array
  rows: number
  /** line ends passed */
  lines: number
  /** the last byte passed was a CR, so that an LF next belongs to it */
  afterCr: boolean
}

/** 10^0 … 10^22 are exact in binary64; a product or quotient of two exact numbers is rounded once (IEEE 754). */
const EXACT = Float64Array.from({ length: 23 }, (_, power) => Number(`1e${power}`))
/** Digits collected below 2^53 are exact. */
const SAFE = 9007199254740992

const NUL = 0
const TAB = 9
const LF = 10
const CR = 13
const BLANK = 32
const QUOTE = 34

/**
 * Reads rows until the region ends, the sink is full, or a row is not plain (a cell that is no plain number, a wrong
 * count of cells, a quote, a NUL, a comment, an overlong line). Returns where it stopped: the first byte not read.
 */
export function readRows(region: Region, plan: RowPlan, sink: RowSink): number {
  const { bytes, to } = region
  const { separator, decimal, slots, longest } = plan
  const { values, capacity } = sink
  const cells = slots.length
  const blanks = separator === BLANK
  const tabs = separator === TAB ? BLANK : TAB
  let p = region.from
  while (p < to && sink.rows < capacity) {
    const start = p
    let c = bytes[p]!
    if (c === LF || c === CR) {
      if (c === CR || !sink.afterCr) sink.lines++
      sink.afterCr = c === CR
      p++
      continue
    }
    if (c === 35 || c === 37 || c === 47) return start
    let cell = 0
    while (true) {
      if (cell === cells) return start
      while (c === BLANK || c === tabs) c = bytes[++p]!
      const slot = slots[cell]!
      if (slot === SLOW) return start
      if (slot === SKIP) {
        while (c !== separator && c !== LF && c !== CR && (c !== TAB || !blanks)) {
          if (c === QUOTE || c === NUL) return start
          c = bytes[++p]!
        }
      } else {
        const text = p
        let negative = false
        if (c === 45) {
          negative = true
          c = bytes[++p]!
        } else if (c === 43) c = bytes[++p]!
        const digits = p
        let m = 0
        while (c >= 48 && c <= 57) {
          m = m * 10 + (c - 48)
          c = bytes[++p]!
        }
        let count = p - digits
        let power = 0
        if (c === decimal) {
          c = bytes[++p]!
          const fraction = p
          while (c >= 48 && c <= 57) {
            m = m * 10 + (c - 48)
            c = bytes[++p]!
          }
          power = fraction - p
          count -= power
        }
        if (count === 0) return start
        if (c === 69 || c === 101) {
          c = bytes[++p]!
          let down = false
          if (c === 45) {
            down = true
            c = bytes[++p]!
          } else if (c === 43) c = bytes[++p]!
          const first = p
          let e = 0
          while (c >= 48 && c <= 57) {
            if (e < 10000) e = e * 10 + (c - 48)
            c = bytes[++p]!
          }
          if (p === first) return start
          power += down ? -e : e
        }
        let value: number
        if (m < SAFE && power >= -22 && power <= 22) value = power < 0 ? m / EXACT[-power]! : m * EXACT[power]!
        else value = Math.abs(plainNumber(bytes, text, p))
        values[slot * capacity + sink.rows] = negative ? -value : value
        while (c === BLANK || c === tabs) c = bytes[++p]!
      }
      cell++
      if (c === LF || c === CR) break
      if (blanks) {
        const before = bytes[p - 1]!
        if (before !== BLANK && before !== TAB && c !== BLANK && c !== TAB) return start
        while (c === BLANK || c === TAB) c = bytes[++p]!
        if (c === LF || c === CR) break
      } else if (c === separator) c = bytes[++p]!
      else return start
    }
    if (cell !== cells || p - start >= longest) return start
    sink.rows++
    sink.lines++
    sink.afterCr = c === CR
    p++
  }
  return p
}

/** The number in ASCII bytes by the language's own parser; the decimal mark may be a comma. */
function plainNumber(bytes: Uint8Array, from: number, to: number): number {
  let text = ''
  for (let at = from; at < to; at++) text += bytes[at] === 44 ? '.' : String.fromCharCode(bytes[at]!)
  return Number(text)
}
