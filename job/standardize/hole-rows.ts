import { median } from '@trueloop/ground/numerics'
import { UNIT } from '../signal/index.ts'
import type { Read } from './hole-input.ts'
import type { MetNotch } from './notches.ts'
import { pointAt } from './place.ts'

/** how far beside a notch its revolutions still count for the fit, m */
const BESIDE_M = 0.3e-3

/**
 * Elements of the wall at the certified angle of a notch, corrected by what the whole standard is turned, one for each
 * revolution that passes over it; the nearest revolution where all pass beside it.
 */
export function rowsOf({ notch }: MetNotch, { wall, scale, met, turned_deg }: Read): readonly number[] {
  const off = median(met.map((one) => one.angleOff_deg))
  const from = pointAt(scale, notch.z0_mm * 1e-3 - BESIDE_M) - wall.first
  const to = pointAt(scale, notch.z1_mm * 1e-3 + BESIDE_M) - wall.first
  const offset = ((notch.angle_deg + turned_deg + off) / 360) * UNIT - wall.first
  const rows: number[] = []
  for (let turn = Math.ceil((from - offset) / UNIT); offset + turn * UNIT <= to; turn++)
    rows.push(Math.round(offset + turn * UNIT))
  return rows.length > 0 ? rows : [Math.round(offset + UNIT * Math.round((0.5 * (from + to) - offset) / UNIT))]
}
