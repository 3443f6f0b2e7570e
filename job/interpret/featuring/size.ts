import type { Sheet } from '../sheet.ts'
import { elementOf } from './loop.ts'
import type { Complex } from './metric.ts'

/** The sheet's fitted size at a ruler point: the parabola through the three elements nearest to it. */
export function sizeAt(sheet: Sheet, point: number): Complex {
  const e = elementOf(sheet, point)
  const i = Math.max(1, Math.min(sheet.length - 2, Math.round(e)))
  const t = e - i
  const [a, b, c] = [0.5 * t * (t - 1), 1 - t * t, 0.5 * t * (t + 1)]
  const of = (column: Float64Array) => a * (column[i - 1] ?? 0) + b * (column[i] ?? 0) + c * (column[i + 1] ?? 0)
  return { x: of(sheet.cx), y: of(sheet.cy) }
}

/** Whether a ruler point lies on the sheet. */
export const isOn = (sheet: Sheet, point: number): boolean =>
  point >= sheet.first && elementOf(sheet, point) <= sheet.length - 1
