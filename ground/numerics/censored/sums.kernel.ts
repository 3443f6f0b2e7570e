import { log } from '../elementary.ts'
import { logNormalCumulative, normalHazard } from '../normal-tail.ts'

const HALF_LOG_TAU = 0.9189385332046728

/**
 * Rows of a normal law whose standardized place is z = offset + sum p[j] columns[j]; the last parameter is the one over
 * the standard deviation. `side`: -1 the true value is the one given or less, 0 it was read, +1 it is more.
 */
export interface CensoredRows {
  readonly columns: readonly Float64Array[]
  readonly offset: number
  readonly side: Int8Array
}

export interface CensoredSums {
  readonly value: number
  readonly gradient: Float64Array
  /** negative second derivatives, [row * size + column] */
  readonly information: Float64Array
}

/**
 * Log-likelihood with its derivatives: read rows -z^2/2 + log p[last], those below log Phi(z), those above log Phi(-z).
 * Concave in these parameters. source: olsen-1978
 */
export function censoredSums({ columns, offset, side }: CensoredRows, p: Float64Array): CensoredSums {
  const size = columns.length
  const gradient = new Float64Array(size)
  const information = new Float64Array(size * size)
  const inverse = p[size - 1]!
  let read = 0
  let value = 0
  for (let i = 0; i < side.length; i++) {
    let z = offset
    for (let j = 0; j < size; j++) z += p[j]! * columns[j]![i]!
    let first = -z
    let second = 1
    if (side[i] === 0) {
      read++
      value -= 0.5 * z * z
    } else {
      const out = side[i]! < 0 ? z : -z
      const hazard = normalHazard(out)
      first = side[i]! < 0 ? hazard : -hazard
      second = hazard * (out + hazard)
      value += logNormalCumulative(out)
    }
    for (let j = 0; j < size; j++) {
      const column = columns[j]![i]!
      gradient[j]! += first * column
      for (let k = 0; k <= j; k++) information[j * size + k]! += second * column * columns[k]![i]!
    }
  }
  gradient[size - 1]! += read / inverse
  information[size * size - 1]! += read / (inverse * inverse)
  for (let j = 0; j < size; j++) for (let k = 0; k < j; k++) information[k * size + j] = information[j * size + k]!
  return { value: value + read * (log(inverse) - HALF_LOG_TAU), gradient, information }
}
