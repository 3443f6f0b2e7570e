import type { Sheet } from '../interpret/index.ts'
import { UNIT } from '../signal/index.ts'

/**
 * The signal of one pass as it was judged, laid out as the unrolled part: a row a revolution of the ruler, a column an
 * element of it. Standardized, in the band: 1 = peak-to-peak of the named notch, lift-off along −x. Elements that were
 * not there are no numbers. A derived view for the eye: it can be made again from the recording at any time.
 */
export interface Wall {
  readonly rows: number
  readonly columns: number
  /** ruler position of the first row, revolutions */
  readonly rowFrom: number
  /** `[row, column]` */
  readonly x: Float32Array
  readonly y: Float32Array
}

/** Lays the sheet out in whole revolutions; the first and the last one are filled up with what is no number. */
export function wallOf({ first, step, perTurn, length, x, y }: Sheet): Wall {
  const rowFrom = Math.floor(first / UNIT)
  const before = Math.round((first - rowFrom * UNIT) / step)
  const rows = length === 0 ? 0 : Math.ceil((before + length) / perTurn)
  const lay = (from: Float64Array): Float32Array => {
    const to = new Float32Array(rows * perTurn).fill(Number.NaN)
    to.set(from.subarray(0, length), before)
    return to
  }
  return { rows, columns: perTurn, rowFrom, x: lay(x), y: lay(y) }
}
