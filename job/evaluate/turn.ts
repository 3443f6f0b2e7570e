import type { Sizing } from './parameters.ts'

/**
 * How the angle of the answer turns with depth: x/y (cotangent of the angle to lift-off) as a straight line of depth,
 * weighted by the noise. Deeper flaws answer later, so that the angle tells depth where the amplitude levels off, and
 * whatever a crack answers less than a notch does not change it.
 */
export interface Turn {
  readonly slope_per_mm: number
  /** weighted mean of the depths, the line's value there, and the variances of that and of the slope */
  readonly mean_mm: number
  readonly level: number
  readonly levelVariance: number
  readonly slopeVariance: number
}

interface Angled {
  readonly depth_mm: number
  readonly behind: { readonly x: number; readonly y: number; readonly xx: number }
}

/** Undefined for fewer than three notches, and where the slope is not told from none. */
export function turnOf(
  notches: readonly Angled[],
  { turnScatter, turnSurely }: Pick<Sizing, 'turnScatter' | 'turnSurely'>
): Turn | undefined {
  if (notches.length < 3) return undefined
  const points = notches.map(({ depth_mm, behind: { x, y, xx } }) => ({
    depth_mm,
    ratio: x / y,
    weight: 1 / (xx / (y * y) + turnScatter * turnScatter)
  }))
  const total = points.reduce((sum, { weight }) => sum + weight, 0)
  const mean = (of: (point: (typeof points)[number]) => number) =>
    points.reduce((sum, point) => sum + point.weight * of(point), 0) / total
  const mean_mm = mean(({ depth_mm }) => depth_mm)
  const level = mean(({ ratio }) => ratio)
  const spread = total * mean(({ depth_mm }) => (depth_mm - mean_mm) * (depth_mm - mean_mm))
  const slope_per_mm = (total * mean(({ depth_mm, ratio }) => (depth_mm - mean_mm) * (ratio - level))) / spread
  const misfit =
    total *
    mean(({ depth_mm, ratio }) => {
      const off = ratio - level - slope_per_mm * (depth_mm - mean_mm)
      return off * off
    })
  const raised = Math.max(1, misfit / (points.length - 2))
  const slopeVariance = raised / spread
  if (!(Math.abs(slope_per_mm) > turnSurely * Math.sqrt(slopeVariance))) return undefined
  return { slope_per_mm, mean_mm, level, levelVariance: raised / total, slopeVariance }
}

/** x/y expected at a depth, and its variance. */
export function turnedAt(turn: Turn, depth_mm: number): { readonly ratio: number; readonly variance: number } {
  const away = depth_mm - turn.mean_mm
  return {
    ratio: turn.level + turn.slope_per_mm * away,
    variance: turn.levelVariance + turn.slopeVariance * away * away
  }
}
