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
/** So far over the least of all tables everything is met. */
export const MET = NOWHERE
/**
 * Chi-square over the least at which the middle of a block rules it out: from one middle to the next any answer changes by
 * less than eight deviations, so that nothing between two of them is lower by more than sixteen.
 */
const RULED_OUT = NOWHERE + 16

export function sweep(tables: readonly Table[]): Swept {
  let best = Number.POSITIVE_INFINITY
  for (let k = 0; k < tables.length; k++) best = coarsely(tables[k]!, roomFor(k, tables[k]!), best)
  const swept = { any: new Float64Array(DEPTHS), like: new Float64Array(DEPTHS), best }
  const [leasts, shares] = [[] as number[], [] as number[]]
  for (let k = 0; k < tables.length; k++) {
    leasts.push(closely(tables[k]!, rooms[k]!, swept))
    shares.push(addShare(swept.like, tables[k]!.seen))
  }
  return { any: swept.any, like: swept.like, leasts, shares }
}

/** The least chi-square anywhere in a table. */
export function leastIn(table: Table): number {
  const room = roomFor(0, table)
  let least = coarsely(table, room, Number.POSITIVE_INFINITY)
  findBlocks(room, least + NOWHERE)
  for (let g = 0; g < room.groups; g++) {
    if (!spanAround(room, g)) continue
    const to = Math.min(table.columns.size.length, (g + 1) * LONG)
    for (let j = g * LONG; j < to; j++) least = Math.min(least, look(table, j, span))
  }
  return least
}

/** What is known of the blocks of a table: chi-square in their middles, `[length, depth]`. */
interface Room {
  readonly groups: number
  readonly chi: Float64Array
  /** by group of lengths, the first and last block that is not ruled out */
  readonly first: Int32Array
  readonly last: Int32Array
}

/** Blocks of tables are looked at for one flaw after the other: the same rooms serve all. */
const rooms: Room[] = []

/** Room for the blocks of the k-th table, chi-squares at infinity. */
function roomFor(k: number, { columns }: Table): Room {
  const groups = Math.ceil(columns.size.length / LONG)
  const known = rooms[k]
  const room = known?.groups === groups ? known : newRoom(groups)
  rooms[k] = room
  room.chi.fill(Number.POSITIVE_INFINITY)
  return room
}

const newRoom = (groups: number): Room => ({
  groups,
  chi: new Float64Array(groups * BLOCKS),
  first: new Int32Array(groups),
  last: new Int32Array(groups)
})

/** Chi-square in the middle of blocks, `[length, depth]`; what the rows alone rule out is left at infinity. */
function coarsely(table: Table, { groups, chi: coarse }: Room, known: number): number {
  const { misfit } = table.columns
  const { chi } = table.depths
  const last = misfit.length - 1
  let start = 0
  for (let g = 1; g < groups; g++) if (misfit[middleOf(g, last)]! < misfit[middleOf(start, last)]!) start = g
  let best = known
  for (let n = 0; n < groups; n++) {
    const g = start + n < groups ? start + n : start + n - groups
    const j = middleOf(g, last)
    if (misfit[j]! > best + RULED_OUT) continue
    best = Math.min(best, look(table, j, MIDDLES))
    for (let b = 0; b < BLOCKS; b++) coarse[g * BLOCKS + b] = chi[MIDDLES.from + b * DEEP]!
  }
  return best
}

const middleOf = (g: number, last: number): number => Math.min(last, g * LONG + 1)

interface Into {
  readonly any: Float64Array
  readonly best: number
}

/** What flaws like the notches weigh in the table at hand, by depth. */
const like = new Float64Array(DEPTHS)

/** Adds the likelihoods of a table to the sums; gives the least chi-square met. */
function closely(table: Table, room: Room, { any, best }: Into): number {
  const { columns, depths, weight, seen } = table
  const { misfit, logLength } = columns
  const sums = { any, like, weight, best, reach: NOWHERE, relative: seen.proportions.relative }
  let least = Number.POSITIVE_INFINITY
  like.fill(0)
  findBlocks(room, best + RULED_OUT)
  for (let g = 0; g < room.groups; g++) {
    if (!spanAround(room, g)) continue
    const to = Math.min(misfit.length, (g + 1) * LONG)
    for (let j = g * LONG; j < to; j++) {
      if (misfit[j]! > best + NOWHERE) continue
      const here = look(table, j, span)
      if (here < least) least = here
      if (here - best < NOWHERE) likelihoodAlong(depths, logLength[j]!, sums, span)
    }
  }
  return least
}

/** No depth is lifted by more: where no length is left for it, it has next to no likelihood either. */
const LEAST_LEFT = 1e-9

/**
 * What a table says of the depth, as far as its kind is what the flaw is: the length says of the kind, but nothing of the depth,
 * so that each depth is taken over what the rows leave of its lengths. Gives what such flaws weigh.
 */
function addShare(sums: Float64Array, seen: Seen): number {
  let from = 0
  let to = DEPTHS
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

/** By group of lengths, the first and last block of less than a chi-square; no block: first beyond last. */
function findBlocks({ groups, chi, first, last }: Room, most: number): void {
  for (let g = 0; g < groups; g++) {
    let from = 0
    let to = BLOCKS - 1
    while (from < BLOCKS && !(chi[g * BLOCKS + from]! < most)) from++
    while (to >= from && !(chi[g * BLOCKS + to]! < most)) to--
    first[g] = from
    last[g] = to
  }
}

/** Depths of the group of lengths at hand. */
const span = { from: 0, to: 0, step: 1 }

/**
 * The span of depths from a block before the first that is not ruled out to one after the last, here or in the lengths beside;
 * false where there is none.
 */
function spanAround({ groups, first, last }: Room, g: number): boolean {
  let from = BLOCKS
  let to = -1
  for (let k = Math.max(0, g - 1); k <= Math.min(groups - 1, g + 1); k++) {
    if (first[k]! > last[k]!) continue
    from = Math.min(from, first[k]!)
    to = Math.max(to, last[k]!)
  }
  span.from = Math.max(0, from - 1) * DEEP
  span.to = Math.min(BLOCKS, to + 2) * DEEP
  return to >= 0
}
