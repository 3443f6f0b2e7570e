import { PI, sin } from '@trueloop/ground/numerics'

/** Neighbors to each side that a value between two elements is made from. */
const REACH = 12

/**
 * A column at every ruler point around one element, from its values at every `step`-th: windowed sinc, exact at the
 * elements. The column holds nothing above half its own limit, so that twelve neighbors on each side are enough.
 *
 * @param at element in the middle
 * @param half ruler points to each side; beyond the column's ends its values count as 0
 * @returns `[2·half + 1]`
 */
export function fineAround(
  column: Float64Array,
  at: number,
  { half, step }: { readonly half: number; readonly step: number }
): Float64Array {
  const tables = tablesOf(step)
  const fine = new Float64Array(2 * half + 1)
  for (let k = 0; k < fine.length; k++) {
    const base = Math.floor((k - half) / step)
    const rest = k - half - base * step
    fine[k] = rest === 0 ? (column[at + base] ?? 0) : between(column, at + base, tables[rest]!)
  }
  return fine
}

function between(column: Float64Array, left: number, table: Float64Array): number {
  let sum = 0
  for (let k = 0; k < table.length; k++) sum += table[k]! * (column[left - REACH + 1 + k] ?? 0)
  return sum
}

const known = new Map<number, readonly Float64Array[]>()

/** For each rest 0 … step − 1 the weights of the elements left − 11 … left + 12. */
function tablesOf(step: number): readonly Float64Array[] {
  const there = known.get(step)
  if (there !== undefined) return there
  const tables = Array.from({ length: step }, (_, rest) => {
    const weights = Float64Array.from({ length: 2 * REACH }, (_, k) => weightAt(k - REACH + 1 - rest / step))
    const sum = weights.reduce((total, weight) => total + weight, 0)
    return weights.map((weight) => weight / sum)
  })
  known.set(step, tables)
  return tables
}

/** sinc times a smooth window that ends at the reach. */
function weightAt(distance: number): number {
  if (distance === 0) return 1
  const turns = distance - 2 * Math.floor(0.5 * distance)
  const share = distance / REACH
  const window = (1 - share * share) * (1 - share * share)
  return ((turns > 1 ? -1 : 1) * sin(PI * (turns > 1 ? turns - 1 : turns)) * window) / (PI * distance)
}
