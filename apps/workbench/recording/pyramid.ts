/**
 * Least and most of a signal in bins of samples, coarser level by level: what a screen can show of a recording of any length
 * is at most a few bins a column. Where no sample could be read the bin has no number.
 */
export interface Level {
  /** samples a bin */
  readonly bin: number
  /** `[bin, least | most]` */
  readonly x: Float32Array
  readonly y: Float32Array
}

export const finest = 64
const coarser = 4

/** Gathers the finest level as samples come. */
export class PyramidBuilder {
  samples = 0
  #x: Float32Array = new Float32Array(1 << 14).fill(Number.NaN)
  #y: Float32Array = new Float32Array(1 << 14).fill(Number.NaN)

  /** `first` is the number of the first of these samples: what is jumped over has no number. */
  add(first: number, x: ArrayLike<number>, y: ArrayLike<number>): void {
    const bins = Math.ceil((first + x.length) / finest)
    this.#x = grown(this.#x, 2 * bins)
    this.#y = grown(this.#y, 2 * bins)
    raise(this.#x, first, x)
    raise(this.#y, first, y)
    this.samples = Math.max(this.samples, first + x.length)
  }

  levels(): readonly Level[] {
    const bins = Math.ceil(this.samples / finest)
    const all: Level[] = [{ bin: finest, x: this.#x.slice(0, 2 * bins), y: this.#y.slice(0, 2 * bins) }]
    while (all.at(-1)!.x.length > 2 * 512) {
      const { bin, x, y } = all.at(-1)!
      all.push({ bin: bin * coarser, x: joined(x), y: joined(y) })
    }
    return all
  }
}

/** Room for so many figures; what was never touched is no number. */
function grown(values: Float32Array, length: number): Float32Array {
  if (length <= values.length) return values
  const more = new Float32Array(Math.max(length, 2 * values.length)).fill(Number.NaN)
  more.set(values)
  return more
}

function raise(bins: Float32Array, first: number, values: ArrayLike<number>): void {
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!
    if (Number.isNaN(value)) continue
    const at = 2 * Math.floor((first + i) / finest)
    if (!(bins[at]! <= value)) bins[at] = value
    if (!(bins[at + 1]! >= value)) bins[at + 1] = value
  }
}

function joined(values: Float32Array): Float32Array {
  const bins = values.length / 2
  const out = new Float32Array(2 * Math.ceil(bins / coarser)).fill(Number.NaN)
  for (let bin = 0; bin < bins; bin++) {
    const at = 2 * Math.floor(bin / coarser)
    if (!(out[at]! <= values[2 * bin]!)) out[at] = Number.isNaN(values[2 * bin]!) ? out[at]! : values[2 * bin]!
    if (!(out[at + 1]! >= values[2 * bin + 1]!))
      out[at + 1] = Number.isNaN(values[2 * bin + 1]!) ? out[at + 1]! : values[2 * bin + 1]!
  }
  return out
}

/** The coarsest level whose bins are still no wider than a column of the screen; the finest where none is. */
export const levelFor = (levels: readonly Level[], samplesPerColumn: number): Level =>
  levels.findLast(({ bin }) => bin <= samplesPerColumn) ?? levels[0]!

/**
 * Least and most of `columns` columns of the screen over the samples `from` to `to`: `[column, least | most]`. Columns
 * without a sample have no number. A bin that two columns share counts in both.
 */
export function columnsOf(bins: Float32Array, bin: number, window: Window): Float32Array {
  const { from, to, columns } = window
  const out = new Float32Array(2 * columns).fill(Number.NaN)
  const last = bins.length / 2 - 1
  for (let column = 0; column < columns; column++) {
    const start = Math.max(0, Math.floor((from + ((to - from) * column) / columns) / bin))
    const end = Math.min(last, Math.ceil((from + ((to - from) * (column + 1)) / columns) / bin) - 1)
    let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]
    for (let at = start; at <= end; at++) {
      if (bins[2 * at]! < least) least = bins[2 * at]!
      if (bins[2 * at + 1]! > most) most = bins[2 * at + 1]!
    }
    if (most >= least) {
      out[2 * column] = least
      out[2 * column + 1] = most
    }
  }
  return out
}

export interface Window {
  /** samples */
  readonly from: number
  readonly to: number
  readonly columns: number
}
