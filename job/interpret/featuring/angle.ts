import { atan2, PI } from '@trueloop/ground/numerics'
import type { FeatureContext } from './context.ts'
import type { FeatureValues } from './numbers.ts'
import type { Ridge } from './ridge.ts'

/** An angle as that of a line: 0 to π, rad. */
export function lineOf(angle_rad: number): number {
  const turns = angle_rad / PI
  return PI * (turns - Math.floor(turns))
}

/** Angle between two lines, 0 to π/2, rad. */
export function betweenLines(a: number, b: number): number {
  const off = lineOf(a - b)
  return Math.min(off, PI - off)
}

/** How far a line is from the nearest of the notches' lines; 0 among them, between two that are no further apart than the span. π/2 where there are none. */
export function fromNotches(phase_rad: number, notches: readonly number[], span_rad: number): number {
  const lines = notches.map(lineOf).sort((a, b) => a - b)
  const line = lineOf(phase_rad)
  const among = lines.some((low, i) => {
    const high = lines[i + 1]
    return high !== undefined && low <= line && line <= high && high - low <= span_rad
  })
  return among ? 0 : lines.reduce((least, notch) => Math.min(least, betweenLines(line, notch)), PI / 2)
}

/**
 * The angle of a ridge, where it lies, and how far the noise across it may have turned it: √(n′ N n · Σ size²)/|Σ size · c|,
 * n the direction across. The noise of its revolutions is taken as independent.
 */
export function angleFeatures(
  { direction: { x, y }, weight }: Ridge,
  { notchPhases, noise }: FeatureContext,
  { notchSpan }: FeatureValues
) {
  const phase_rad = lineOf(atan2(y, x))
  const across = Math.max(0, noise.xx * y * y - 2 * noise.xy * x * y + noise.yy * x * x)
  return {
    phase_rad,
    fromLiftOff_rad: betweenLines(phase_rad, 0),
    fromNotches_rad: fromNotches(phase_rad, notchPhases, (notchSpan * PI) / 180),
    phaseNoise_rad: weight.length > 0 ? Math.min(PI / 2, Math.sqrt(across * weight.square) / weight.length) : PI / 2
  }
}
