import { UNIT } from '../../signal/index.ts'
import type { Sheet } from '../sheet.ts'
import { correlation, loopAt } from './loop.ts'
import type { Metric } from './metric.ts'
import type { Ridge, RidgeRow } from './ridge.ts'

/** How a place moves from revolution to revolution: the steady part of it is a helix. */
export function moveFeatures({ rows, first, last }: Ridge) {
  const strong = rows.slice(first, last + 1)
  const moves = strong.slice(1).map((row, i) => (row.at - strong[i]!.at) / UNIT - 1)
  const helix_turn = moves.reduce((sum, move) => sum + move, 0) / Math.max(1, moves.length)
  const most = (of: (move: number) => number) => moves.reduce((so, move) => Math.max(so, Math.abs(of(move))), 0)
  return { wander_turn: most((move) => move), helix_turn, unsteady_turn: most((move) => move - helix_turn) }
}

/** Revolutions that are compared for their likeness: as many as tell, and not a whole pass. */
const MOST_PAIRS = 8

/** Mean likeness of neighboring revolutions along the ridge; for one revolution alone, with its neighbors. */
export function repeatOf(
  sheet: Sheet,
  ridge: Ridge,
  { half, metric }: { readonly half: number; readonly metric: Metric }
): number {
  const rows = comparedRows(ridge)
  const loops = rows.map(({ at }) => loopAt(sheet, at, half))
  let sum = 0
  for (let i = 1; i < loops.length; i++) sum += correlation(loops[i - 1]!, loops[i]!, metric)
  return loops.length > 1 ? sum / (loops.length - 1) : 0
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
