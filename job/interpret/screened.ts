import type { Axis, Signal } from '../signal/index.ts'
import { matchedOutput } from '../standardize/index.ts'
import type { Screened } from './candidates.ts'
import { swing } from './swing.kernel.ts'

/** A unit of standardized signal between its two neighbors, in ruler order. */
export type Neighbors<A extends Axis> = readonly [
  Signal<'standardized', A>,
  Signal<'standardized', A>,
  Signal<'standardized', A>
]

/**
 * Screens the middle one of three neighboring units: matched output and vertical peak-to-peak at each of its points.
 * Takes standardized signal only: candidates are never looked for in recorded units.
 * @param weights of the matched output, `[2·half + 1]`; `half` is at most a unit
 */
export function screened<A extends Axis>([before, unit, after]: Neighbors<A>, weights: Float64Array): Screened {
  const half = (weights.length - 1) / 2
  const length = unit.y.length
  const join = (of: (signal: Signal<'standardized', A>) => Float64Array) => {
    const whole = new Float64Array(length + 2 * half)
    whole.set(of(before).subarray(before.y.length - half), 0)
    whole.set(of(unit), half)
    whole.set(of(after).subarray(0, half), half + length)
    return whole
  }
  const x = join((signal) => signal.x)
  const y = join((signal) => signal.y)
  const range = { from: half, to: half + length }
  return { first: unit.first, matched: matchedOutput(y, weights, range), swing: swing(y, half, range), x, y, half }
}
