import type { Axis, Signal } from '../signal/index.ts'
import { matchedOutput } from '../standardize/index.ts'
import type { Screened } from './candidates.ts'
import { swing } from './swing.kernel.ts'

/** Two neighboring units of standardized signal, in ruler order. */
export type Pair<A extends Axis> = readonly [Signal<'standardized', A>, Signal<'standardized', A>]

/**
 * Screens as many points as a unit has, ending `half` points before the end of the second of two neighboring units:
 * matched output and vertical peak-to-peak at each of them. Nothing waits for more signal than the form reaches over.
 * Takes standardized signal only: candidates are never looked for in recorded units.
 * @param weights of the matched output, `[2·half + 1]`; twice `half` is at most a unit, else RangeError
 */
export function screened<A extends Axis>([before, unit]: Pair<A>, weights: Float64Array): Screened {
  const half = (weights.length - 1) / 2
  const length = unit.y.length
  if (2 * half > before.y.length) throw new RangeError('a form longer than a unit can not be looked for')
  const join = (of: (signal: Signal<'standardized', A>) => Float64Array) => {
    const whole = new Float64Array(length + 2 * half)
    whole.set(of(before).subarray(before.y.length - 2 * half), 0)
    whole.set(of(unit), 2 * half)
    return whole
  }
  const x = join((signal) => signal.x)
  const y = join((signal) => signal.y)
  const range = { from: half, to: half + length }
  const first = unit.first - half
  return { first, matched: matchedOutput(y, weights, range), swing: swing(y, half, range), x, y, half }
}
