import { exp } from '@trueloop/ground/numerics'
import { bellBetween } from './bell.kernel.ts'

/** Rows of a flaw, depth in deviations of the footprint: columns `[revolution]`. */
export interface RowColumns {
  readonly u: Float64Array
  readonly x: Float64Array
  readonly y: Float64Array
}

/** Sums over the rows for each place looked at (its middle in deviations): Σt², Σt·x, Σt·y, columns `[place]`. */
export interface Places {
  readonly at: Float64Array
  readonly tt: Float64Array
  readonly tx: Float64Array
  readonly ty: Float64Array
}

/** Places looked at, the last of them too, and to how many deviations a flaw reaches on each side of them. */
export interface Reaching {
  readonly half: number
  readonly from: number
  readonly to: number
}

/**
 * Sums of rows against the shape t of a flaw that reaches `half` deviations to each side of its place, seen through the
 * footprint; 0 for a point. t is left in proportion: 1 over the middle of a point, Φ(half) − Φ(−half) over that of others.
 */
export function sumsAgainst({ u, x, y }: RowColumns, { at, tt, tx, ty }: Places, { half, from, to }: Reaching): void {
  for (let k = from; k <= to; k++) {
    const middle = at[k]!
    let [a, b, c] = [0, 0, 0]
    for (let i = 0; i < u.length; i++) {
      const off = u[i]! - middle
      const t = half > 0 ? bellBetween(off, half) : exp(-0.5 * off * off)
      a += t * t
      b += t * x[i]!
      c += t * y[i]!
    }
    tt[k] = a
    tx[k] = b
    ty[k] = c
  }
}
