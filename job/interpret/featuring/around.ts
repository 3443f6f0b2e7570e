import type { Sheet } from '../sheet.ts'
import { elementOf } from './loop.ts'
import type { Complex } from './metric.ts'

/** What a lone notch answers over, with half a spacing to both sides: two of its lobe spacings. */
const OWN = 2

export interface AroundRule {
  /** by which sizes are read, and the size from which on a place answers like this one */
  readonly weights: Complex
  readonly level: number
  /** distance of the notch's lobes, ruler points */
  readonly spacing: number
}

/**
 * Share of the circumference, beyond what a lone notch takes itself, that answers like a place at half its size or more on
 * its own revolution or the neighboring ones. A place answers where one does within half a lobe spacing of it, so that the
 * zero between two lobes is no gap.
 */
export function aroundOf(sheet: Sheet, at: number, { weights, level, spacing }: AroundRule): number {
  const { perTurn, step } = sheet
  const flags = answering(sheet, Math.round(elementOf(sheet, at)), { weights, level })
  const reach = Math.max(1, Math.round((0.5 * spacing) / step))
  let count = 0
  let behind = perTurn
  for (let i = -reach; i < perTurn + reach; i++) {
    behind = flags[(i + perTurn) % perTurn] === 1 ? 0 : behind + 1
    if (i >= reach && behind <= 2 * reach) count++
  }
  const own = Math.min(0.5, (OWN * spacing) / (perTurn * step))
  return Math.max(0, (count / perTurn - own) / (1 - own))
}

/** One flag an angle: whether the size is at the level or above in one of the three revolutions around. */
function answering(
  { cx, cy, perTurn, length }: Sheet,
  peak: number,
  { weights, level }: { readonly weights: Complex; readonly level: number }
): Uint8Array {
  const flags = new Uint8Array(perTurn)
  const start = peak - Math.floor(1.5 * perTurn)
  for (let i = Math.max(0, start); i < Math.min(length, start + 3 * perTurn); i++) {
    const size = Math.abs(weights.x * cx[i]! + weights.y * cy[i]!)
    if (size > 0 && size >= level) flags[(i - start) % perTurn] = 1
  }
  return flags
}
