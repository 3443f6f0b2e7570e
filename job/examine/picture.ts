import type { Sheet } from '../interpret/index.ts'
import { UNIT } from '../signal/index.ts'
import type { Picture } from './examination.ts'

const COLUMNS = 128
const MOST_ROWS = 384
const TENTHS = 1e4

/**
 * The unrolled wall for the eye: in each cell the largest size along a direction (the named notch's). Rows are whole
 * revolutions of the ruler; where there are too many, neighbors are joined by their maximum.
 */
export function pictureOf(sheet: Sheet, direction: { readonly x: number; readonly y: number }): Picture {
  const { first, step, length, perTurn, cx, cy } = sheet
  const rowFrom = Math.floor(first / UNIT)
  const units = length === 0 ? 0 : Math.floor((first + (length - 1) * step) / UNIT) - rowFrom + 1
  const rowStep = Math.max(1, Math.ceil(units / MOST_ROWS))
  const rows = Math.ceil(units / rowStep)
  const cells = new Float64Array(rows * COLUMNS)
  const perCell = perTurn / COLUMNS
  const skipped = (first - rowFrom * UNIT) / step
  for (let i = 0; i < length; i++) {
    const along = Math.abs(cx[i]! * direction.x + cy[i]! * direction.y)
    const at = i + skipped
    const unit = Math.floor(at / perTurn)
    const cell = Math.floor(unit / rowStep) * COLUMNS + Math.floor((at - unit * perTurn) / perCell)
    if (along > cells[cell]!) cells[cell] = along
  }
  const values = new Array<number>(cells.length)
  for (let k = 0; k < cells.length; k++) values[k] = Math.round(cells[k]! * TENTHS) / TENTHS
  return { rows, columns: COLUMNS, rowFrom, rowStep, values }
}
