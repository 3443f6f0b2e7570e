import type { Span } from './forms.ts'
import { likelihoodAlong } from './plane.kernel.ts'
import { DEPTHS, leftAlong, look, type Seen, type Table } from './table.ts'

/**
 * Likelihood of each depth, length, kind and form of law summed over: the middle of blocks of five depths by four lengths
 * first, then everything in and beside the blocks that those do not rule out.
 */
export interface Swept {
  /** by depth, over flaws of any proportions and over those like the notches */
  readonly any: Float64Array
  readonly like: Float64Array
  /** least chi-square met in each table */
  readonly leasts: readonly number[]
  /** what each table weighs in `like` */
  readonly shares: readonly number[]
}

const DEEP = 5
const LONG = 4
const BLOCKS = DEPTHS / DEEP
const MIDDLES = { from: 2, to: DEPTHS, step: DEEP }
/** Chi-square over the least beyond which a place adds nothing that is printed: 3e-4 of its likelihood. */
const NOWHERE = 16
/**
 * Chi-square over the least at which the middle of a block rules it out: from one middle to the next any answer changes by
 * less than eight deviations, so that nothing between two of them is lower by more than sixteen.
 */
const RULED_OUT = NOWHERE + 16

export function sweep(tables: readonly Table[]): Swept {
  const coarse = tables.map((table, k) => roomFor(k, table))
  let best = Number.POSITIVE_INFINITY
  for (const [k, table] of tables.entries()) best = coarsely(table, coarse[k]!, best)
  const swept = { any: new Float64Array(DEPTHS), like: new Float64Array(DEPTHS) }
  const [leasts, shares] = [[] as number[], [] as number[]]
  for (const [k, table] of tables.entries()) {
    const { least, share } = closely(table, coarse[k]!, { ...swept, best })
    leasts.push(least)
    shares.push(share)
  }
  return { ...swept, leasts, shares }
}

/** The least chi-square anywhere in a table. */
export function leastIn(table: Table): number {
  const coarse = roomFor(0, table)
  let least = coarsely(table, coarse, Number.POSITIVE_INFINITY)
  for (let g = 0; g * BLOCKS < coarse.length; g++) {
    const span = spanAround(coarse, g, least + NOWHERE)
    if (span === undefined) continue
    const to = Math.min(table.columns.size.length, (g + 1) * LONG)
    for (let j = g * LONG; j < to; j++) least = Math.min(least, look(table, j, span))
  }
  return least
}

/** Blocks of tables are looked at for one flaw after the other: the same columns serve all. */
const rooms: Float64Array[] = []

/** Room for the blocks of the k-th table, at infinity. */
function roomFor(k: number, { columns }: Table): Float64Array {
  const length = Math.ceil(columns.size.length / LONG) * BLOCKS
  const room = rooms[k]?.length === length ? rooms[k] : new Float64Array(length)
  rooms[k] = room
  return room.fill(Number.POSITIVE_INFINITY)
}

/** Chi-square in the middle of blocks, `[length, depth]`; what the rows alone rule out is left at infinity. */
function coarsely(table: Table, coarse: Float64Array, known: number): number {
  const { misfit } = table.columns
  const { chi } = table.depths
  const groups = coarse.length / BLOCKS
  const last = misfit.length - 1
  let start = 0
  for (let g = 1; g < groups; g++) if (misfit[middleOf(g, last)]! < misfit[middleOf(start, last)]!) start = g
  let best = known
  for (let n = 0; n < groups; n++) {
    const g = (start + n) % groups
    if (misfit[middleOf(g, last)]! > best + RULED_OUT) continue
    best = Math.min(best, look(table, middleOf(g, last), MIDDLES))
    for (let b = 0; b < BLOCKS; b++) coarse[g * BLOCKS + b] = chi[MIDDLES.from + b * DEEP]!
  }
  return best
}

const middleOf = (g: number, last: number): number => Math.min(last, g * LONG + 1)

interface Into {
  readonly any: Float64Array
  readonly like: Float64Array
  readonly best: number
}

/** What flaws like the notches weigh in the table at hand, by depth. */
const like = new Float64Array(DEPTHS)

/** Adds the likelihoods of a table to the sums; the least chi-square met, and what flaws like the notches weigh. */
function closely(table: Table, coarse: Float64Array, into: Into): { readonly least: number; readonly share: number } {
  const { columns, depths, weight, seen } = table
  const sums = { any: into.any, like, weight, best: into.best, reach: NOWHERE, relative: seen.proportions.relative }
  const met = { from: DEPTHS, to: 0 }
  let least = Number.POSITIVE_INFINITY
  like.fill(0)
  for (let g = 0; g * BLOCKS < coarse.length; g++) {
    const span = spanAround(coarse, g, into.best + RULED_OUT)
    if (span === undefined) continue
    met.from = Math.min(met.from, span.from)
    met.to = Math.max(met.to, span.to)
    const to = Math.min(columns.size.length, (g + 1) * LONG)
    for (let j = g * LONG; j < to; j++) {
      const here = look(table, j, span)
      if (here < least) least = here
      if (here - into.best < NOWHERE) likelihoodAlong(depths, columns.logLength[j]!, sums, span)
    }
  }
  return { least, share: addShare(into.like, seen, met) }
}

/** No depth is lifted by more: where no length is left for it, it has next to no likelihood either. */
const LEAST_LEFT = 1e-9

/**
 * What a table says of the depth, as far as its kind is what the flaw is: the length says of the kind, but nothing of the depth,
 * so that each depth is taken over what the rows leave of its lengths. Gives what such flaws weigh.
 */
function addShare(sums: Float64Array, seen: Seen, { from, to }: { from: number; to: number }): number {
  while (from < to && like[from] === 0) from++
  while (to > from && like[to - 1] === 0) to--
  if (from >= to) return 0
  const left = leftAlong(seen, { from, to })
  let [share, content] = [0, 0]
  for (let i = from; i < to; i++) {
    share += like[i]!
    like[i]! /= Math.max(LEAST_LEFT, left[i]!)
    content += like[i]!
  }
  for (let i = from; i < to; i++) sums[i]! += (share * like[i]!) / content
  return share
}

/** All depths from a block before the first that is not ruled out to one after the last, here or in the lengths beside. */
function spanAround(coarse: Float64Array, g: number, most: number): Span | undefined {
  let first = BLOCKS
  let last = -1
  const to = Math.min(coarse.length, (g + 2) * BLOCKS)
  for (let i = Math.max(0, g - 1) * BLOCKS; i < to; i++) {
    if (!(coarse[i]! < most)) continue
    const b = i % BLOCKS
    if (b < first) first = b
    if (b > last) last = b
  }
  if (last < 0) return undefined
  return { from: Math.max(0, first - 1) * DEEP, to: Math.min(BLOCKS, last + 2) * DEEP, step: 1 }
}
