import { exp, log } from '@trueloop/ground/numerics'
import type { Rows } from './rows.ts'

/** Lengths looked at: the first is a point, the others go by even factors. */
export interface Lengths {
  readonly length_mm: Float64Array
  /** their logarithms; that of the point is none */
  readonly logs: Float64Array
}

/** Rows are fitted at every so many lengths; between them all that a fit says is a cubic of its neighbors. */
export const ANCHORS = 5

/** A point, and a whole number of anchors with one more. */
const LENGTHS = 2 + 15 * ANCHORS
/** The shortest but a point, as a share of the footprint. */
const SHORTEST = 0.1

/** Lengths worth looking at: a point, and by even factors up to the −6 dB extent and a footprint more. */
export function lengthsFor({ half }: Rows, width_mm: number): Lengths {
  const least = SHORTEST * width_mm
  const first = log(least)
  const step = log((half.to - half.from + width_mm) / least) / (LENGTHS - 2)
  const [length_mm, logs] = [new Float64Array(LENGTHS), new Float64Array(LENGTHS)]
  logs[0] = Number.NEGATIVE_INFINITY
  for (let j = 1; j < LENGTHS; j++) {
    length_mm[j] = least * exp(step * (j - 1))
    logs[j] = first + step * (j - 1)
  }
  return { length_mm, logs }
}
