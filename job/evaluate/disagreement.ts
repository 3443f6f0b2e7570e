import { leastTurnAlong } from './plane.kernel.ts'
import { sweep } from './sweep.ts'
import { DEPTHS, type Table } from './table.ts'

/**
 * Whether amplitude and angle contradict each other: in every plane the best place of both is worse than each by itself by
 * more than `most`. What was met when all planes were swept together decides nearly always; else each is swept by itself.
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
  both.some(({ columns }, k) => leasts[k]! - leastMisfit(columns) <= most)

export function contradict({ both, leasts }: Both, alone: Alone, most: number): boolean {
  const best = Math.min(...leasts)
  const surely = both.every((table, k) => best - alone.leasts[k]! - leastTurn(table, COARSE) > most)
  return surely || both.every((table, k) => worse(table, alone.amplitude[k]!) > most)
}

/** By how much the best place of both is worse than each by itself. */
const worse = (both: Table, amplitude: Table): number => leastOf(both) - leastOf(amplitude) - leastTurn(both, ALL)

const leastMisfit = (columns: Table['columns']): number =>
  columns.reduce((least, { misfit }) => Math.min(least, misfit), Number.POSITIVE_INFINITY)

const ALL = { from: 0, to: DEPTHS, step: 1 }
const COARSE = { ...ALL, step: 5 }

/** Least chi-square anywhere in a table. */
const leastOf = (table: Table): number => sweep([table]).leasts[0]!

const leastTurn = ({ columns, depths }: Table, span: typeof ALL): number =>
  columns.reduce((least, column) => Math.min(least, leastTurnAlong(depths, column, span)), Number.POSITIVE_INFINITY)
