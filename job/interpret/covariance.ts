import { hypot, pairScatter } from '@trueloop/ground/numerics'
import { isRefusal } from '@trueloop/ground/refusal'

/** Second moments of a complex quantity. */
export interface Covariance {
  readonly xx: number
  readonly xy: number
  readonly yy: number
}

/** Robust covariance of two columns about 0; zero where there are too few values, or one column is mostly 0. `near`: as for `pairScatter`. */
export function robustCovariance(x: Float64Array, y: Float64Array, near?: Covariance): Covariance {
  const scatter = pairScatter({ x, y }, near)
  return isRefusal(scatter) ? { xx: 0, xy: 0, yy: 0 } : scatter
}

/** Lower factor of a covariance: a = √xx, b = xy/a, c = √(yy − b²); whitened = (x/a, (y − b·x/a)/c). */
export interface Whitening {
  readonly a: number
  readonly b: number
  readonly c: number
}

/** Smallest correlation that is still taken for one: beyond it the second direction would have no noise at all. */
const LEAST_OWN = 1e-6

export function whiteningOf({ xx, xy, yy }: Covariance): Whitening {
  const a = Math.sqrt(xx)
  const b = xx > 0 ? xy / a : 0
  return { a, b, c: Math.sqrt(Math.max(yy - b * b, LEAST_OWN * yy)) }
}

export interface Point {
  readonly x: number
  readonly y: number
}

export const whitened = ({ a, b, c }: Whitening, { x, y }: Point): Point => {
  const u = x / a
  return { x: u, y: (y - b * u) / c }
}

/**
 * The smallest covariance that is nowhere below either: in the plane where the first is round, every axis of the second
 * is raised to 1 at least. So is the larger of reference and hole taken, direction by direction.
 */
export function largerOf(one: Covariance, other: Covariance): Covariance {
  if (one.xx === 0 || one.yy === 0) return other
  if (other.xx === 0 || other.yy === 0) return one
  const w = whiteningOf(one)
  // the second covariance in the plane where the first is round: R = W S W'
  const xx = other.xx / (w.a * w.a)
  const xy = (other.xy / w.a - w.b * xx) / w.c
  const yy = (other.yy - (2 * (w.b * other.xy)) / w.a + w.b * w.b * xx) / (w.c * w.c)
  const mean = 0.5 * (xx + yy)
  const apart = hypot(0.5 * (xx - yy), xy)
  const [major, minor] = [mean + apart, mean - apart]
  const raised = [Math.max(1, major), Math.max(1, minor)] as const
  const { ex, ey } = majorAxis({ xx, xy, yy }, apart)
  const round = {
    xx: raised[0] * ex * ex + raised[1] * ey * ey,
    xy: (raised[0] - raised[1]) * ex * ey,
    yy: raised[0] * ey * ey + raised[1] * ex * ex
  }
  // back: S = L R L'
  return {
    xx: w.a * w.a * round.xx,
    xy: w.a * (w.b * round.xx + w.c * round.xy),
    yy: w.b * w.b * round.xx + 2 * w.b * w.c * round.xy + w.c * w.c * round.yy
  }
}

/** Unit eigenvector of the larger eigenvalue; any where both are equal. Its smaller part without cancellation. */
function majorAxis({ xx, xy, yy }: Covariance, apart: number): { readonly ex: number; readonly ey: number } {
  if (apart === 0) return { ex: 1, ey: 0 }
  const long = Math.sqrt(0.5 + (0.25 * Math.abs(xx - yy)) / apart)
  const short = xy / apart / (2 * long)
  return xx >= yy ? { ex: long, ey: short } : { ex: short, ey: long }
}

/** Variance along a direction of unit length. */
export const varianceAlong = ({ xx, xy, yy }: Covariance, { x, y }: Point): number =>
  xx * x * x + 2 * xy * x * y + yy * y * y

export const scaled = ({ xx, xy, yy }: Covariance, by: number): Covariance => ({
  xx: by * xx,
  xy: by * xy,
  yy: by * yy
})
