import { UNIT } from '../signal/index.ts'

/** Turns ruler points of a scan with known edges into depth from the entry face, m. */
export interface DepthScale {
  /** ruler point of the entry face */
  readonly entry: number
  readonly metresPerPoint: number
}

export const depthAt = (scale: DepthScale, point: number): number => (point - scale.entry) * scale.metresPerPoint
export const pointAt = (scale: DepthScale, depth_m: number): number => scale.entry + depth_m / scale.metresPerPoint

/** Angle of a ruler point within its revolution, degrees, 0 to 360, in the sense of rotation from the index pulse. */
export function angleOf(point: number): number {
  const turns = point / UNIT
  return 360 * (turns - Math.floor(turns))
}

/** Smallest signed difference a − b of two angles, degrees, −180 to 180. */
export function angleBetween(a: number, b: number): number {
  const turns = (a - b) / 360
  return 360 * (turns - Math.floor(turns + 0.5))
}
