import type { Span } from './forms.ts'
import { leastAlong, likelihoodAlong } from './plane.kernel.ts'
import { DEPTHS, look, type Table } from './table.ts'

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
  const coarse = tables.map(({ columns }) => infinite(Math.ceil(columns.length / LONG) * BLOCKS))
  let best = Number.POSITIVE_INFINITY
  for (const [k, table] of tables.entries()) best = coarsely(table, coarse[k]!, best)
  const swept = { any: new Float64Array(DEPTHS), like: new Float64Array(DEPTHS) }
  const [leasts, shares] = [[] as number[], [] as number[]]
  for (const [k, table] of tables.entries()) {
    const like = new Float64Array(DEPTHS)
    const { least, share } = closely(table, coarse[k]!, { any: swept.any, like, best })
    leasts.push(least)
    shares.push(share)
    addShare(swept.like, like, share)
  }
  return { ...swept, leasts, shares }
}

/** What a table says of the depth, as far as its kind is what the flaw is. */
function addShare(sums: Float64Array, like: Float64Array, share: number): void {
  const content = total(like)
  if (!(content > 0)) return
  for (let i = 0; i < sums.length; i++) sums[i]! += (share * like[i]!) / content
}

function total(values: Float64Array): number {
  let sum = 0
  for (let i = 0; i < values.length; i++) sum += values[i]!
  return sum
}

const infinite = (length: number): Float64Array => new Float64Array(length).fill(Number.POSITIVE_INFINITY)

/** Chi-square in the middle of blocks, `[length, depth]`; what the rows alone rule out is left at infinity. */
function coarsely(table: Table, coarse: Float64Array, known: number): number {
  const { columns, depths } = table
  const groups = coarse.length / BLOCKS
  const middle = (g: number) => Math.min(columns.length - 1, g * LONG + 1)
  let start = 0
  for (let g = 1; g < groups; g++) if (columns[middle(g)]!.misfit < columns[middle(start)]!.misfit) start = g
  let best = known
  for (let n = 0; n < groups; n++) {
    const g = (start + n) % groups
    if (columns[middle(g)]!.misfit > best + RULED_OUT) continue
    look(table, middle(g), MIDDLES)
    for (let b = 0; b < BLOCKS; b++) {
      const chi = depths.chi[MIDDLES.from + b * DEEP]!
      coarse[g * BLOCKS + b] = chi
      if (chi < best) best = chi
    }
  }
  return best
}

interface Into {
  readonly any: Float64Array
  readonly like: Float64Array
  readonly best: number
}

/** Adds the likelihoods of a table to the sums; the least chi-square met, and what flaws like the notches weigh. */
function closely(table: Table, coarse: Float64Array, into: Into): { readonly least: number; readonly share: number } {
  const { columns, depths, weight, proportions, cut } = table
  const sums = { ...into, relative: proportions.relative, cut, weight, reach: NOWHERE }
  let [least, share] = [Number.POSITIVE_INFINITY, 0]
  for (let g = 0; g * BLOCKS < coarse.length; g++) {
    const span = spanAround(coarse, g, into.best + RULED_OUT)
    if (span === undefined) continue
    for (let j = g * LONG; j < Math.min(columns.length, (g + 1) * LONG); j++) {
      look(table, j, span)
      share += likelihoodAlong(depths, columns[j]!.logLength, sums, span)
      least = Math.min(least, leastAlong(depths.chi, span))
    }
  }
  return { least, share }
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
