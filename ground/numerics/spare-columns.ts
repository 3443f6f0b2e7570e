/**
 * Columns that somebody is done with, by length. Fresh memory has to be cleared, and what is dropped keeps the garbage
 * collector busy: examinations that follow each other take over the columns of those before.
 */
const spare = new Map<number, Float64Array<ArrayBuffer>[]>()
let kept = 0

/** Elements kept at most: 32 MB. When more come back, those kept before are left to the garbage collector. */
const MOST_KEPT = 1 << 22

/** A column of that length for who writes before reading: it may hold anything. Who never gives it back does no harm. */
export function borrowColumn(length: number): Float64Array<ArrayBuffer> {
  const column = spare.get(length)?.pop()
  if (column === undefined) return new Float64Array(length)
  kept -= length
  return column
}

/** Gives a column to whoever borrows next: the giver, and all who have a view of it, must not touch it any more. */
export function giveBack(column: Float64Array<ArrayBuffer>): void {
  const { length } = column
  if (length === 0) return
  if (kept + length > MOST_KEPT) {
    spare.clear()
    kept = 0
  }
  kept += length
  const there = spare.get(length)
  if (there === undefined) spare.set(length, [column])
  else there.push(column)
}

/** A longer column with the same beginning in place of this one, which is given back. */
export function outgrown(column: Float64Array<ArrayBuffer>, length: number): Float64Array<ArrayBuffer> {
  const longer = borrowColumn(length)
  longer.set(column)
  giveBack(column)
  return longer
}

/** Elements of a column for work that are kept at most: 2 MB. A longer one is made for once. */
const LONGEST_WORK = 1 << 18

/**
 * A column for work that is over before the next is asked for: what is in it means nothing to that one, and it may hold
 * anything. Each place that works asks for its own with this, once.
 */
export function workColumn(): (length: number) => Float64Array<ArrayBuffer> {
  let kept = new Float64Array(0)
  return (length) => {
    if (length > LONGEST_WORK) return new Float64Array(length)
    if (kept.length < length) kept = new Float64Array(Math.min(LONGEST_WORK, 2 * length))
    return kept.subarray(0, length)
  }
}
