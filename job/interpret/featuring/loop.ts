import type { Sheet } from '../sheet.ts'
import { inner, type Metric } from './metric.ts'
import { type NotchShape, shapeAt } from './shape.ts'

/** The loop around a place: offsets from it in ruler points and the standardized signal there, columns of one length. */
export interface Loop {
  readonly offset: Float64Array
  readonly x: Float64Array
  readonly y: Float64Array
}

/** Where a ruler point lies in the columns of a sheet, in elements. */
export const elementOf = ({ first, step }: Sheet, point: number): number => (point - first) / step

/** The sheet within ± half ruler points of a point, as far as the sheet reaches. */
export function loopAt(sheet: Sheet, at: number, half: number): Loop {
  const from = Math.max(0, Math.ceil(elementOf(sheet, at - half)))
  const to = Math.max(from, Math.min(sheet.length, Math.floor(elementOf(sheet, at + half)) + 1))
  const middle = elementOf(sheet, at)
  const offset = new Float64Array(to - from)
  for (let i = 0; i < offset.length; i++) offset[i] = (from + i - middle) * sheet.step
  return { offset, x: sheet.x.subarray(from, to), y: sheet.y.subarray(from, to) }
}

/**
 * The complex size of the notch's shape in a loop by least squares, and the share of the loop's energy that it explains;
 * energy is counted in the plane of the metric.
 */
export function fitted({ offset, x, y }: Loop, shape: NotchShape, metric: Metric) {
  let square = 0
  let sx = 0
  let sy = 0
  for (let i = 0; i < offset.length; i++) {
    const s = shapeAt(shape, offset[i]!)
    square += s * s
    sx += s * x[i]!
    sy += s * y[i]!
  }
  const energy = crossEnergy({ offset, x, y }, { offset, x, y }, metric)
  if (square === 0 || !(energy > 0)) return { x: 0, y: 0, likeness: 0 }
  const size = { x: sx / square, y: sy / square }
  return { ...size, likeness: Math.min(1, (square * inner(metric, size, size)) / energy) }
}

/** Correlation of two loops in the plane of the metric, −1 to 1, over the elements that both have, from their first on. */
export function correlation(a: Loop, b: Loop, metric: Metric): number {
  const square = crossEnergy(a, a, metric) * crossEnergy(b, b, metric)
  return square > 0 ? Math.max(-1, Math.min(1, crossEnergy(a, b, metric) / Math.sqrt(square))) : 0
}

function crossEnergy(a: Loop, b: Loop, { xx, xy, yy }: Metric): number {
  const n = Math.min(a.x.length, b.x.length)
  let sum = 0
  for (let i = 0; i < n; i++)
    sum += xx * a.x[i]! * b.x[i]! + xy * (a.x[i]! * b.y[i]! + a.y[i]! * b.x[i]!) + yy * a.y[i]! * b.y[i]!
  return sum
}
