import { leastTurnAlong } from './plane.kernel.ts'
import { leastIn } from './sweep.ts'
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
  const surely = both.every((table, k) => best - alone.leasts[k]! - leastTurn(table, COARSE) > most)
  return surely || both.every((table, k) => worse(table, alone.amplitude[k]!) > most)
}

/** By how much the best place of both is worse than each by itself. */
const worse = (both: Table, amplitude: Table): number => leastIn(both) - leastIn(amplitude) - leastTurn(both, ALL)

const ALL = { from: 0, to: DEPTHS, step: 1 }
const COARSE = { ...ALL, step: 5 }

function leastTurn(table: Table, span: typeof ALL): number {
  let least = Number.POSITIVE_INFINITY
  for (let j = 0; j < table.columns.turn.length; j++) least = Math.min(least, leastTurnAlong(table, j, span))
  return least
}
