import { borrowColumn, giveBack } from '@trueloop/ground/numerics'
import type { Sheet } from '../interpret/index.ts'
import { UNIT } from '../signal/index.ts'
import type { Picture } from './examination.ts'
import { raiseCells, rounded } from './picture.kernel.ts'

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
  const cells = borrowColumn(rows * COLUMNS).fill(0)
  const skipped = (first - rowFrom * UNIT) / step
  for (let unit = 0; unit < units; unit++) {
    const from = unit * perTurn - skipped
    const to = Math.min(length, from + perTurn)
    const row = cells.subarray(Math.floor(unit / rowStep) * COLUMNS)
    raiseCells(row, { cx, cy, direction }, { perElement: COLUMNS / perTurn, from, start: Math.max(0, from), to })
  }
  const values = rounded(cells, TENTHS)
  giveBack(cells)
  return { rows, columns: COLUMNS, rowFrom, rowStep, values }
}
