import { UNIT } from '../../signal/index.ts'
import type { Sheet } from '../sheet.ts'
import { correlation, loopAt } from './loop.ts'
import type { Metric } from './metric.ts'
import type { Ridge, RidgeRow } from './ridge.ts'

/** How a place moves from revolution to revolution: the steady part of it is a helix. */
export function moveFeatures({ rows, first, last }: Ridge) {
  let sum = 0
  for (let i = first; i < last; i++) sum += moveAfter(rows, i)
  const helix_turn = sum / Math.max(1, last - first)
  let [wander_turn, unsteady_turn] = [0, 0]
  for (let i = first; i < last; i++) {
    const move = moveAfter(rows, i)
    wander_turn = Math.max(wander_turn, Math.abs(move))
    unsteady_turn = Math.max(unsteady_turn, Math.abs(move - helix_turn))
  }
  return { wander_turn, helix_turn, unsteady_turn }
}

/** By how much the next row lies beside this one, turns. */
const moveAfter = (rows: Ridge['rows'], i: number): number => (rows[i + 1]!.at - rows[i]!.at) / UNIT - 1

/** Revolutions that are compared for their likeness: as many as tell, and not a whole pass. */
const MOST_PAIRS = 8

/** Mean likeness of neighboring revolutions along the ridge; for one revolution alone, with its neighbors. */
export function repeatOf(
  sheet: Sheet,
  ridge: Ridge,
  { half, metric }: { readonly half: number; readonly metric: Metric }
): number {
  const rows = comparedRows(ridge)
  let sum = 0
  let before = loopAt(sheet, rows[0]!.at, half)
  for (let i = 1; i < rows.length; i++) {
    const now = loopAt(sheet, rows[i]!.at, half)
    sum += correlation(before, now, metric)
    before = now
  }
  return rows.length > 1 ? sum / (rows.length - 1) : 0
}

function comparedRows({ rows, peak, first, last }: Ridge): readonly RidgeRow[] {
  if (last > first) {
    const from = Math.max(first, Math.min(peak - MOST_PAIRS / 2, last - MOST_PAIRS))
    return rows.slice(from, Math.min(last, from + MOST_PAIRS) + 1)
  }
  const { at } = rows[peak]!
  const beside = (sense: 1 | -1) => rows[peak + sense] ?? { at: at + sense * UNIT, size: 0 }
  return [beside(-1), rows[peak]!, beside(1)]
}
