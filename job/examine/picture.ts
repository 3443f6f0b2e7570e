import { UNIT } from '../signal/index.ts'
import type { Picture } from './examination.ts'

const COLUMNS = 128
const MOST_ROWS = 384
const PER_COLUMN = UNIT / COLUMNS

/**
 * The unrolled wall for the eye: largest |matched output| in each cell. Rows are whole units of ruler; when there are
 * too many, neighbors are joined by their maximum, so that its size never depends on the length of the recording.
 */
export class PictureBuilder {
  #rows: Float64Array[] = []
  #step = 1
  #from: number | undefined

  /** @param matched matched output from ruler point `first` on, in the order of the ruler */
  add(first: number, matched: Float64Array): void {
    this.#from ??= Math.floor(first / UNIT)
    for (let i = 0; i < matched.length; ) {
      const point = first + i
      const unit = Math.floor(point / UNIT)
      const row = this.#row(Math.floor((unit - this.#from) / this.#step))
      const end = Math.min(matched.length, (unit + 1) * UNIT - first)
      for (let at = point - unit * UNIT; i < end; i++, at++) {
        const column = Math.floor(at / PER_COLUMN)
        const size = Math.abs(matched[i]!)
        if (size > row[column]!) row[column] = size
      }
    }
  }

  build(): Picture {
    const values: number[] = []
    for (const row of this.#rows) for (const value of row) values.push(Math.round(value * 1e4) / 1e4)
    return { rows: this.#rows.length, columns: COLUMNS, rowFrom: this.#from ?? 0, rowStep: this.#step, values }
  }

  #row(number: number): Float64Array {
    while (this.#rows.length <= number && this.#rows.length < MOST_ROWS) this.#rows.push(new Float64Array(COLUMNS))
    if (number < MOST_ROWS) return this.#rows[number]!
    this.#halve()
    return this.#row(Math.floor(number / 2))
  }

  #halve(): void {
    const half: Float64Array[] = []
    for (let i = 0; i < this.#rows.length; i += 2) {
      const b = this.#rows[i + 1]
      half.push(this.#rows[i]!.map((value, k) => Math.max(value, b?.[k] ?? 0)))
    }
    this.#rows = half
    this.#step *= 2
  }
}
