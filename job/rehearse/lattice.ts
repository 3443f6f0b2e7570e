import type { Random } from '@trueloop/ground/numerics'
import { lineSpline, ringSpline } from './lattice.kernel.ts'

/** Smooth random fields: independent normal coefficients on a lattice, joined by cubic B-splines. */

/** Mean square of the spline of white coefficients of variance 1, over all places: the integral of β(x)². */
const MEAN_SQUARE = 151 / 315

export interface Stretch {
  readonly from: number
  readonly to: number
}

/** A field on the wall, periodic in turns; (wall in turns, z in m) → value with this rms. */
export type WallField = (wall: number, z: number) => number

export interface WallFieldForm {
  readonly rms: number
  readonly length_m: number
  readonly around_m: number
  readonly along: Stretch
}

/** Knots lie about `length_m` apart, a whole number of them around; the field ends outside `along`. */
export function wallField(form: WallFieldForm, random: Random): WallField {
  if (form.rms === 0) return () => 0
  const columns = Math.max(4, Math.round(form.around_m / form.length_m))
  const rows = Math.ceil((form.along.to - form.along.from) / form.length_m) + 1
  const values = normals(columns * rows, form.rms / MEAN_SQUARE, random)
  const at = { u: 0, v: 0 }
  return (wall, z) => {
    at.u = (wall - Math.floor(wall)) * columns
    at.v = (z - form.along.from) / form.length_m
    return ringSpline(values, columns, at)
  }
}

/** A function of one variable with this rms, knots `knot` apart, that ends outside `along`. */
export function lineField(
  form: { readonly rms: number; readonly knot: number; readonly along: Stretch },
  random: Random
): (at: number) => number {
  if (form.rms === 0) return () => 0
  const count = Math.ceil((form.along.to - form.along.from) / form.knot) + 5
  const values = normals(count, form.rms / Math.sqrt(MEAN_SQUARE), random)
  return (at) => lineSpline(values, (at - form.along.from) / form.knot + 2)
}

const normals = (count: number, rms: number, random: Random): Float64Array =>
  Float64Array.from({ length: count }, () => rms * random.normal())
