import { atan2, cos, principalAxes, robustScatter, sin } from '@trueloop/ground/numerics'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { refuse } from './codes.ts'
import type { TrackColumn } from './track-run.ts'

/** Direction of lift-off on a plate, as a line, and how surely it is known. */
export interface LiftOffLine {
  readonly angle_rad: number
  /** standard uncertainty, rad */
  readonly doubt_rad: number
  readonly axisRatio: number
  readonly points: number
  /** second moments of the noise, recorded units */
  readonly noise: { readonly xx: number; readonly xy: number; readonly yy: number }
}

const DOF = 3
const LEAST_RATIO = 1.2

/**
 * Line of the lift-off on clear plate: the major axis of what wanders there, by the hand and the paint. Its doubt counts
 * one independent place a width of the field: the noise across the line is no more even than that.
 * @param clear elements of the run that lie on clear plate
 * @param field width of the field in ruler points
 */
export function liftOffLine(run: TrackColumn, clear: readonly number[], field: number): Result<LiftOffLine> {
  const of = (column: readonly number[]) => Float64Array.from(clear, (i) => column[i]!)
  const scatter = robustScatter({ x: of(run.x), y: of(run.y) }, DOF)
  if (isRefusal(scatter)) return scatter
  const { major, minor, angle_rad } = principalAxes(scatter)
  const axisRatio = Math.sqrt(major / minor)
  if (!(axisRatio >= LEAST_RATIO)) return undetermined(axisRatio)
  const independent = Math.max(1, clear.length / field)
  const doubt_rad = Math.sqrt((major * minor) / independent) / (major - minor)
  const noise = quickNoise(run, clear, field)
  return isRefusal(noise) ? noise : { angle_rad, doubt_rad, axisRatio, points: clear.length, noise }
}

/** Second moments of the differences over one width of the field, halved: noise against which a flaw stands out. */
function quickNoise(run: TrackColumn, clear: readonly number[], field: number): Result<LiftOffLine['noise']> {
  const isClear = new Uint8Array(run.at.length)
  for (const i of clear) isClear[i] = 1
  const pairs = clear.filter((i) => isClear[i + field] === 1)
  const difference = (column: readonly number[]) =>
    Float64Array.from(pairs, (i) => (column[i + field]! - column[i]!) * Math.sqrt(0.5))
  const scatter = robustScatter({ x: difference(run.x), y: difference(run.y) }, DOF)
  return isRefusal(scatter) ? scatter : { xx: scatter.xx, xy: scatter.xy, yy: scatter.yy }
}

/** Mean of lines, each by how surely it is known. */
export function meanLine(lines: readonly LiftOffLine[]): Pick<LiftOffLine, 'angle_rad' | 'doubt_rad'> {
  let [c, s, weights] = [0, 0, 0]
  for (const { angle_rad, doubt_rad } of lines) {
    const weight = 1 / (doubt_rad * doubt_rad)
    c += weight * cos(2 * angle_rad)
    s += weight * sin(2 * angle_rad)
    weights += weight
  }
  return { angle_rad: 0.5 * atan2(s, c), doubt_rad: 1 / Math.sqrt(weights) }
}

const undetermined = (ratio: number) =>
  refuse('standardize/rotation-undetermined', {
    found: `noise of the plate with an axis ratio of ${ratio.toFixed(2)}`,
    needed: `${LEAST_RATIO} or more`,
    remedy: 'record more clear plate beside the slots'
  })
