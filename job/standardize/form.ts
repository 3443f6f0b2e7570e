import { cos, principalAxes, sin } from '@trueloop/ground/numerics'
import type { Turn } from '../signal/index.ts'
import type { Standardization } from './standardization.ts'
import type { Wall } from './wall.ts'

export type Form = Standardization['form']

/** The named notch's own standardized signal around its middle, mean of its strongest revolution and both neighbors. */
export function formAt(
  wall: Wall,
  at: number,
  { turn, spacing, unit }: { turn: Turn; spacing: number; unit: number }
): Form {
  const half = Math.min(Math.round(1.25 * spacing), Math.floor(unit / 2))
  const x: number[] = []
  const y: number[] = []
  for (let k = -half; k <= half; k++) {
    let sx = 0
    let sy = 0
    for (const row of [-1, 0, 1]) {
      const i = at + k + row * unit
      sx += (wall.x[i] ?? 0) / 3
      sy += (wall.y[i] ?? 0) / 3
    }
    x.push(sx * turn.x - sy * turn.y)
    y.push(sx * turn.y + sy * turn.x)
  }
  return { half, x, y }
}

/**
 * Weights of the matched output d(n) = Σ w(k)·y(n + k): the form's own vertical part, scaled so that the form itself
 * gives 1. Horizontal is lift-off after standardization and is left out.
 */
export function matchedWeights(form: Form): Float64Array {
  let square = 0
  for (const y of form.y) square += y * y
  return Float64Array.from(form.y, (y) => (square > 0 ? y / square : 0))
}

/** The form's one-dimensional shape: its part along its own long axis, `[2·half + 1]`, unit sum of squares. */
export function shapeOf(form: Form): Float64Array {
  const moments = { xx: 0, xy: 0, yy: 0 }
  for (let k = 0; k < form.x.length; k++) {
    moments.xx += form.x[k]! * form.x[k]!
    moments.xy += form.x[k]! * form.y[k]!
    moments.yy += form.y[k]! * form.y[k]!
  }
  const { angle_rad } = principalAxes(moments)
  const along = Float64Array.from(form.x, (x, k) => x * cos(angle_rad) + form.y[k]! * sin(angle_rad))
  const size = Math.sqrt(along.reduce((sum, value) => sum + value * value, 0))
  return along.map((value) => value / size)
}

/**
 * The form's shape as weights of a fit in which the named notch's own form has the size 1, `[2·half + 1]`: `fittedShape`
 * with it gives sizes in units of the named notch, 1 at its strongest revolution. Its sign is such that the named notch
 * itself points up (y > 0, or x > 0 where it lies along lift-off): then a size's direction carries the order of its lobes.
 * All 0 where the form is 0.
 */
export function unitShape(form: Form): Float64Array {
  const shape = shapeOf(form)
  let x = 0
  let y = 0
  for (let k = 0; k < shape.length; k++) {
    x += shape[k]! * form.x[k]!
    y += shape[k]! * form.y[k]!
  }
  const size = Math.sqrt(x * x + y * y)
  const sense = y < 0 || (y === 0 && x < 0) ? -1 : 1
  return shape.map((value) => (size > 0 ? (sense * value) / size : 0))
}

/** Complex size of a shape at some places of a signal: least-squares fit, mean over the places. */
export function fittedShape(
  signal: { readonly x: Float64Array; readonly y: Float64Array },
  shape: Float64Array,
  places: readonly number[]
): { readonly x: number; readonly y: number } {
  const half = (shape.length - 1) / 2
  let x = 0
  let y = 0
  for (const at of places) {
    for (let k = -half; k <= half; k++) {
      x += shape[k + half]! * (signal.x[at + k] ?? 0)
      y += shape[k + half]! * (signal.y[at + k] ?? 0)
    }
  }
  return { x: x / places.length, y: y / places.length }
}
