import { leastTurnAlong } from './plane.kernel.ts'
import { leastIn, MET } from './sweep.ts'
import { DEPTHS, type Table } from './table.ts'

/**
 * Whether amplitude and angle contradict each other: in every plane the best place of both is worse than each by itself by
 * more than `most`. What was met when all planes were swept together decides nearly always; else each is searched by itself.
 */

/** Planes with the angle, and the least chi-square met in each: that of the best plane is the least there is. */
export interface Both {
  readonly both: readonly Table[]
  readonly leasts: readonly number[]
}

export interface Alone {
  readonly amplitude: readonly Table[]
  readonly leasts: readonly number[]
}

/** A place is at least as bad as its rows, and the angle by itself no better than 0: where that is enough. */
export const surelyAgree = (both: readonly Table[], leasts: readonly number[], most: number): boolean =>
  both.some(({ seen }, k) => leasts[k]! - seen.leastMisfit <= most)

export function contradict({ both, leasts }: Both, alone: Alone, most: number): boolean {
  const best = Math.min(...leasts)
  const bestAlone = Math.min(...alone.leasts)
  return both.every((table, k) => {
    const amplitude = leastOf(alone.amplitude[k]!, alone.leasts[k]!, bestAlone)
    if (turnsBy(table, Math.min(leasts[k]!, best + MET) - amplitude - most)) return true
    return leasts[k]! >= best + MET && turnsBy(table, leastIn(table) - amplitude - most)
  })
}

/** The least chi-square of a table is the one met where that is near the least of all; else it is searched for. */
const leastOf = (table: Table, met: number, best: number): number => (met < best + MET ? met : leastIn(table))

/** Whether the angle by itself is worse by less than this somewhere. */
function turnsBy(table: Table, less: number): boolean {
  if (!(less > 0)) return false
  for (let j = 0; j < table.columns.turn.length; j++) if (leastTurnAlong(table, j, ALL) < less) return true
  return false
}

const ALL = { from: 0, to: DEPTHS, step: 1 }
