import { bellsBetween } from './bell.kernel.ts'
import { likelihoodOf } from './likelihood.kernel.ts'

/** Rows of a flaw, depth in deviations of the footprint: columns `[revolution]`, of which `count` are in use. */
export interface RowColumns {
  readonly count: number
  readonly u: Float64Array
  readonly x: Float64Array
  readonly y: Float64Array
  /** to work in */
  readonly shape: Float64Array
}

/** Sums over the rows for each place looked at (its middle in deviations): Σt², Σt·x, Σt·y, columns `[place]`. */
export interface Places {
  readonly at: Float64Array
  readonly tt: Float64Array
  readonly tx: Float64Array
  readonly ty: Float64Array
  /** what a face leaves of the answer, `[place, revolution]`, so many values a place: 0 where it is one for all places */
  readonly left: Float64Array
  readonly stride: number
}

/** Places looked at, the last of them too, and to how many deviations a flaw reaches on each side of them. */
export interface Reaching {
  readonly half: number
  /** from the place to the middle of the flaw */
  readonly ahead: number
  readonly from: number
  readonly to: number
}

/**
 * Sums of rows against the shape t of a flaw that reaches `half` deviations to each side of its place, seen through the
 * footprint; 0 for a point. t is left in proportion: 1 over the middle of a point, Φ(half) − Φ(−half) over that of others,
 * both as far as no face takes from them.
 */
export function sumsAgainst(
  { count, u, x, y, shape }: RowColumns,
  { at, tt, tx, ty, left, stride }: Places,
  { half, ahead, from, to }: Reaching
): void {
  for (let k = from; k <= to; k++) {
    const middle = at[k]! + ahead
    const first = k * stride
    if (half > 0) bellsBetween({ u, count, into: shape }, middle, half)
    else pointAlong({ u, count, into: shape }, middle)
    let a = 0
    let b = 0
    let c = 0
    for (let i = 0; i < count; i++) {
      const t = left[first + i]! * shape[i]!
      a += t * t
      b += t * x[i]!
      c += t * y[i]!
    }
    tt[k] = a
    tx[k] = b
    ty[k] = c
  }
}

interface Along {
  readonly u: Float64Array
  readonly count: number
  readonly into: Float64Array
}

/** A point as the footprint shows it. */
function pointAlong({ u, count, into }: Along, middle: number): void {
  for (let i = 0; i < count; i++) {
    const off = u[i]! - middle
    into[i] = likelihoodOf(off * off)
  }
}
