import { cos, PI } from '../elementary.ts'

/** What a sum over rows needs of them. */
export interface Summed {
  readonly z: Float64Array
  readonly hits: Float64Array
  readonly misses: Float64Array
}

/** Few places with weights, of either sign, that stand for many rows. */
export interface Condensed extends Summed {
  /** half of the width of a cell, in z */
  readonly reach: number
}

/** Rows from, but not to, in a cell of z. */
interface Cell {
  readonly from: number
  readonly to: number
  readonly middle: number
  readonly half: number
}

const CELLS = 256
const NODES = 12
/** Places below which the rows themselves are summed. */
const MANY = 2 * CELLS * NODES

/** T_k at the nodes, k the row, times 2/12 (1/12 for k = 0): turns sums of T_k over rows into weights of nodes. */
const ANGLES = Float64Array.from({ length: NODES }, (_, j) => ((2 * j + 1) * PI) / (2 * NODES))
const AT = ANGLES.map(cos)
const TO_NODES = Float64Array.from({ length: NODES * NODES }, (_, i) => {
  const k = Math.floor(i / NODES)
  return ((k === 0 ? 1 : 2) / NODES) * cos(k * ANGLES[i % NODES]!)
})

/**
 * Rows of rising z put into cells of equal width; the rows of a cell become weights at 12 Chebyshev nodes, by which
 * every polynomial up to degree 11 keeps its sum. What is summed over rows is smooth in z: see `summedAt`. Undefined
 * where rows are so few that nothing is gained. source: clenshaw-1962
 */
export function condense({ z, hits, misses }: Summed): Condensed | undefined {
  if (z.length < MANY) return undefined
  const width = (z.at(-1)! - z[0]!) / CELLS
  const out = {
    z: new Float64Array(CELLS * NODES),
    hits: new Float64Array(CELLS * NODES),
    misses: new Float64Array(CELLS * NODES)
  }
  let [from, kept] = [0, 0]
  for (let cell = 0; cell < CELLS; cell++) {
    const middle = z[0]! + (cell + 0.5) * width
    let to = from
    while (to < z.length && (z[to]! < middle + 0.5 * width || cell === CELLS - 1)) to++
    if (to - from <= NODES) {
      for (let i = from; i < to; i++, kept++) {
        out.z[kept] = z[i]!
        out.hits[kept] = hits[i]!
        out.misses[kept] = misses[i]!
      }
    } else {
      spread({ z, hits, misses }, { from, to, middle, half: 0.5 * width }, { ...out, kept })
      kept += NODES
    }
    from = to
  }
  const front = (column: Float64Array): Float64Array => column.slice(0, kept)
  return { z: front(out.z), hits: front(out.hits), misses: front(out.misses), reach: 0.5 * width }
}

/** Sums of T_0 … T_11 over the hits and then the misses of a cell. */
const sums = new Float64Array(2 * NODES)

function spread(
  { z, hits, misses }: Summed,
  { from, to, middle, half }: Cell,
  out: Summed & { readonly kept: number }
): void {
  sums.fill(0)
  for (let i = from; i < to; i++) {
    const t = (z[i]! - middle) / half
    if (hits[i] !== 0) addTo(0, hits[i]!, t)
    if (misses[i] !== 0) addTo(NODES, misses[i]!, t)
  }
  const { kept } = out
  for (let j = 0; j < NODES; j++) {
    out.z[kept + j] = middle + half * AT[j]!
    out.hits[kept + j] = weight(0, j)
    out.misses[kept + j] = weight(NODES, j)
  }
}

function addTo(first: number, count: number, t: number): void {
  let [before, here] = [count, count * t]
  sums[first]! += before
  for (let k = 1; k < NODES; k++) {
    sums[first + k]! += here
    const next = 2 * t * here - before
    before = here
    here = next
  }
}

function weight(first: number, j: number): number {
  let sum = 0
  for (let k = 0; k < NODES; k++) sum += TO_NODES[k * NODES + j]! * sums[first + k]!
  return sum
}

/** Largest change of the predictor over half a cell: then no sum is off by more than rounding (condense.test.ts). */
const SMOOTH = 0.15

/** Where sums of a curve are taken that is no steeper in z than `steepness`: at the nodes where it is flat enough. */
export const summedAt = (tally: Summed & { readonly condensed?: Condensed }, steepness: number): Summed =>
  tally.condensed !== undefined && tally.condensed.reach * steepness <= SMOOTH ? tally.condensed : tally
