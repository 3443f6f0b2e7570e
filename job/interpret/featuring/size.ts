import type { Sheet } from '../sheet.ts'
import { elementOf } from './loop.ts'
import type { Complex } from './metric.ts'

/** The sheet's fitted size at a ruler point: the parabola through the three elements nearest to it. */
export function sizeAt(sheet: Sheet, point: number): Complex {
  const e = elementOf(sheet, point)
  const i = Math.max(1, Math.min(sheet.length - 2, Math.round(e)))
  const t = e - i
  return { x: through(sheet.cx, i, t), y: through(sheet.cy, i, t) }
}

/** The parabola through three elements, t elements from the middle one; nothing beyond the ends. */
function through(column: Float64Array, i: number, t: number): number {
  const [a, b, c] = [0.5 * t * (t - 1), 1 - t * t, 0.5 * t * (t + 1)]
  return a * (column[i - 1] ?? 0) + b * (column[i] ?? 0) + c * (column[i + 1] ?? 0)
}

/** Whether a ruler point lies on the sheet. */
export const isOn = (sheet: Sheet, point: number): boolean =>
  point >= sheet.first && elementOf(sheet, point) <= sheet.length - 1
