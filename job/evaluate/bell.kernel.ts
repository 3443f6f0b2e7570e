import { normalCumulative } from '@trueloop/ground/numerics'

/** Distribution of the normal density from a table: one fit of rows asks for it some ten thousand times. */

const PER_UNIT = 128
const REACH = 8
const LAST = 2 * REACH * PER_UNIT
const TABLE = tableOfCumulative()

/** From −8 to 8 and one more; the halves mirror each other. */
function tableOfCumulative(): Float64Array {
  const table = new Float64Array(LAST + 2).fill(1)
  for (let i = 0; 2 * i <= LAST; i++) {
    table[i] = normalCumulative(i / PER_UNIT - REACH)
    table[LAST - i] = 1 - table[i]!
  }
  return table
}

/** P(Z ≤ u) linear between 128 values a deviation: within 2e-6, far below any noise that a size is told through. */
export function bellCumulative(u: number): number {
  if (!(u > -REACH)) return 0
  if (u >= REACH) return 1
  const place = (u + REACH) * PER_UNIT
  const i = Math.floor(place)
  return TABLE[i]! + (place - i) * (TABLE[i + 1]! - TABLE[i]!)
}

/** P(u − half < Z ≤ u + half) for u at so many places less `middle`, into a column; from the same table, `into` may not be `u`. */
export function bellsBetween(
  { u, count, into }: { readonly u: Float64Array; readonly count: number; readonly into: Float64Array },
  middle: number,
  half: number
): void {
  const table = TABLE
  const up = (REACH - middle + half) * PER_UNIT
  const down = (REACH - middle - half) * PER_UNIT
  for (let i = 0; i < count; i++) {
    const place = u[i]! * PER_UNIT
    const high = Math.min(LAST, Math.max(0, place + up))
    const low = Math.min(LAST, Math.max(0, place + down))
    const h = high | 0
    const l = low | 0
    const above = table[h]!
    const below = table[l]!
    into[i] = above - below + (high - h) * (table[h + 1]! - above) - (low - l) * (table[l + 1]! - below)
  }
}
