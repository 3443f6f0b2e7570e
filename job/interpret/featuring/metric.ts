import type { FeatureContext } from './context.ts'

export interface Complex {
  readonly x: number
  readonly y: number
}

/**
 * The plane with its noise made round: N⁻¹ of the noise's covariance N, or the plain plane where there is none. Sizes,
 * likeness and lobes are taken in it, so that a wall that is restless along lift-off does not speak for or against what
 * lies across it. A factor of N changes nothing of them.
 */
export interface Metric {
  readonly xx: number
  readonly xy: number
  readonly yy: number
}

export function metricOf({ xx, xy, yy }: FeatureContext['noise']): Metric {
  const det = xx * yy - xy * xy
  return det > 0 ? { xx: yy / det, xy: -xy / det, yy: xx / det } : { xx: 1, xy: 0, yy: 1 }
}

/** a′ M b. */
export const inner = ({ xx, xy, yy }: Metric, a: Complex, b: Complex): number =>
  xx * a.x * b.x + xy * (a.x * b.y + a.y * b.x) + yy * a.y * b.y

/**
 * Weights of the least-noise size along a direction u of length 1: w = M u / (u′ M u), so that w·(s u) = s, and what the
 * noise adds is as small as it can be.
 */
export function weightsAlong(metric: Metric, u: Complex): Complex {
  const square = inner(metric, u, u)
  return { x: (metric.xx * u.x + metric.xy * u.y) / square, y: (metric.xy * u.x + metric.yy * u.y) / square }
}

/** A complex number as its length and a direction of length 1 (along x where it is 0). */
export function polar({ x, y }: Complex): { readonly size: number; readonly direction: Complex } {
  const size = Math.sqrt(x * x + y * y)
  return { size, direction: size > 0 ? { x: x / size, y: y / size } : { x: 1, y: 0 } }
}
