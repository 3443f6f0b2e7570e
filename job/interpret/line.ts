import type { Point } from './covariance.ts'
import type { Weighing } from './statistic.kernel.ts'

/**
 * The direction of a signal, as the noise lets it be seen: deviations along it are `weight.x · x + weight.y · y`, and a size
 * of so many deviations is that times `back`. What lies across it in the plane where the noise is round is in neither.
 */
export interface Line {
  readonly weight: Point
  readonly back: Point
}

type Whitening = Pick<Weighing, 'a' | 'b' | 'c'>

/** The line through a size that is not 0, pointing its way. */
export function lineThrough({ a, b, c }: Whitening, { x, y }: Point): Line {
  const u = x / a
  const v = (y - b * u) / c
  const size = Math.sqrt(u * u + v * v)
  const own = { x: u / size, y: v / size }
  return {
    weight: { x: (own.x - (own.y * b) / c) / a, y: own.y / c },
    back: { x: a * own.x, y: b * own.x + c * own.y }
  }
}

/** Deviations of a size along a line. */
export const along = ({ weight }: Line, { x, y }: Point): number => weight.x * x + weight.y * y

/** As the statistic of a sheet: deviations by which one size stands out in the best direction of the cone, without sign. */
export function standing({ a, b, c, from, to }: Weighing, { x, y }: Point): number {
  const u = x / a
  const v = (y - b * u) / c
  const sign = u * (from.x + to.x) + v * (from.y + to.y) < 0 ? -1 : 1
  const p = sign * u
  const q = sign * v
  if (from.x * q - from.y * p >= 0 && p * to.y - q * to.x >= 0) return Math.sqrt(u * u + v * v)
  return Math.max(0, p * from.x + q * from.y, p * to.x + q * to.y)
}
