/** Test help: notches and flaws seen through a footprint, without noise unless it is given. */
import type { FittedRows, NotchReading } from '../../standardize/index.ts'
import { filledShare, type Measured, seenAt } from '../index.ts'

export const WIDTH = 1.5
export const noise = { xx: 0.04 * 0.04, yy: 0.02 * 0.02 }

export interface Flaw {
  readonly depth_mm: number
  readonly length_mm: number
  /** answer over that of a notch of its size */
  readonly factor?: number
  /** middle, from the entry face */
  readonly z_mm?: number
  /** added to x/y */
  readonly turned?: number
}

/** Answer over the middle of a flaw. */
export const answer = ({ depth_mm, length_mm, factor = 1 }: Flaw): number =>
  factor * 3.2 * filledShare(length_mm, WIDTH) * (1 - Math.exp(-depth_mm / 0.6))

/** Rows of a flaw every quarter of a millimeter; `off` is added to each component in turn (rows repeat it). */
export function rowsFor(flaw: Flaw, off: readonly number[] = [0]): FittedRows {
  const { depth_mm, length_mm, z_mm = 5, turned = 0 } = flaw
  const k = Array.from({ length: 25 }, (_, i) => i)
  const z = k.map((i) => z_mm + 0.25 * (i - 12) + 0.07)
  const ratio = 0.05 + 0.22 * depth_mm + turned
  const scale = answer(flaw) / Math.sqrt(1 + ratio * ratio)
  const size = z.map((at) => scale * seenAt(at - z_mm, { length: length_mm, width: WIDTH }))
  return {
    z_m: z.map((at) => at / 1000),
    x: size.map((value, i) => value * ratio + off[(2 * i) % off.length]!),
    y: size.map((value, i) => value + off[(2 * i + 1) % off.length]!)
  }
}

export const notch = (place: string, flaw: Flaw, more: Partial<NotchReading> = {}): NotchReading => ({
  id: `${place} ${flaw.depth_mm}`,
  place,
  depth_mm: flaw.depth_mm,
  length_mm: flaw.length_mm,
  amplitude: answer(flaw),
  matched: answer(flaw),
  phase_rad: 0,
  fitted: { x: 0, y: 1 },
  fittedNoise: { x: 0, y: 0 },
  angle_rad: 0,
  z_m: 0.005,
  angleOff_rad: 0,
  zOff_m: 0,
  rows: rowsFor(flaw),
  ...more
})

export const bores = [0.25, 0.5, 1, 1.5].map((depth_mm) => notch('mid-bore', { depth_mm, length_mm: 2 * depth_mm }))
export const corners = [0.25, 0.5, 0.76, 1.5].map((depth_mm) =>
  notch('entry corner', { depth_mm, length_mm: depth_mm })
)
export const notches = [...bores, ...corners]

/** A flaw of the bore as it is measured. */
export const measured = (flaw: Flaw, more: Partial<Measured> = {}): Measured => ({
  amplitude: answer(flaw),
  place: 'mid-bore',
  rows: rowsFor(flaw),
  ...more
})
