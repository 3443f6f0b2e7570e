import { cos, principalAxes, sin } from '@trueloop/ground/numerics'
import type { FeatureContext } from './context.ts'
import { vertex } from './vertex.ts'

/** The named notch's signal as one shape in one direction: form ≈ shape · (x, y). */
export interface NotchShape {
  readonly half: number
  readonly along: Float64Array
  readonly x: number
  readonly y: number
  /** ruler points from its lowest to its highest point: the spacing of its lobes, positive */
  readonly spacing: number
}

/** Shapes of forms that were split before: a job has one. */
const known = new WeakMap<FeatureContext['form'], NotchShape>()

/** Splits a form into its direction (its long axis) and its shape along that direction, `[2·half + 1]`. */
export function notchShape(form: FeatureContext['form']): NotchShape {
  const shape = known.get(form) ?? freshShape(form)
  known.set(form, shape)
  return shape
}

function freshShape({ half, x, y }: FeatureContext['form']): NotchShape {
  const moments = { xx: 0, xy: 0, yy: 0 }
  for (let k = 0; k < x.length; k++) {
    moments.xx += x[k]! * x[k]!
    moments.xy += x[k]! * y[k]!
    moments.yy += y[k]! * y[k]!
  }
  const { angle_rad } = principalAxes(moments)
  const ux = cos(angle_rad)
  const uy = sin(angle_rad)
  const along = Float64Array.from(x, (value, k) => value * ux + y[k]! * uy)
  return { half, along, x: ux, y: uy, spacing: Math.abs(extremes(along).high.at - extremes(along).low.at) }
}

/** The shape at an offset from its middle in ruler points, linear between points, 0 beyond its ends. */
export function shapeAt({ along, half }: NotchShape, offset: number): number {
  const i = Math.floor(offset)
  const share = offset - i
  return (1 - share) * (along[half + i] ?? 0) + share * (along[half + i + 1] ?? 0)
}

/** The shape at every offset of a column. */
export function shapeOver(shape: NotchShape, offset: Float64Array): Float64Array {
  const out = new Float64Array(offset.length)
  for (let i = 0; i < out.length; i++) out[i] = shapeAt(shape, offset[i]!)
  return out
}

export interface Extreme {
  readonly at: number
  readonly value: number
}

/** Highest and lowest point of a column, each refined by the parabola through it and its neighbors; `at` in elements. */
export function extremes(column: Float64Array): { readonly high: Extreme; readonly low: Extreme } {
  let high = 0
  let low = 0
  for (let i = 1; i < column.length; i++) {
    if (column[i]! > column[high]!) high = i
    if (column[i]! < column[low]!) low = i
  }
  return { high: vertex(column, high), low: vertex(column, low) }
}
