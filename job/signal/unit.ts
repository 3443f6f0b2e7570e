import { UNIT } from './band.ts'
import type { Placed } from './placing.kernel.ts'
import type { Axis, Signal } from './signal.ts'

/** One placed unit of ruler and what is known of it. */
export interface Unit<A extends Axis> {
  readonly number: number
  readonly signal: Signal<'placed', A>
  /** elements that no sample reached, filled in from their neighbors: nothing there counts as examined */
  readonly hollow: number
  /** mean over the elements of 1/effective samples: variance of white sample noise that passes the placing kernel */
  readonly noiseGain: number
}

/**
 * Finishes a placed unit: empty elements are bridged in a straight line (so that a filter can run over them) and counted.
 * `before` is the value the unit begins from when its own beginning is empty; without it the
 * first value that is there is held.
 */
export function finishUnit<A extends Axis>(
  placed: Placed,
  axis: A,
  {
    number,
    before
  }: { readonly number: number; readonly before: { readonly x: number; readonly y: number } | undefined }
): Unit<A> {
  const { x, y, weight } = placed
  const elements = x.length
  const { alike = elements } = placed
  let hollow = 0
  let noise = alike < elements ? (elements - alike) / weight[alike]! : 0
  for (let n = 0; n < alike; n++) {
    if (weight[n] === 0) hollow++
    else noise += 1 / weight[n]!
  }
  if (hollow > 0) {
    bridge(x, weight, before?.x)
    bridge(y, weight, before?.y)
  }
  const signal: Signal<'placed', A> = { state: 'placed', axis, first: number * UNIT, x, y }
  return { number, signal, hollow, noiseGain: hollow < elements ? noise / (elements - hollow) : 0 }
}

function bridge(values: Float64Array, weight: Float64Array, before: number | undefined): void {
  const start = weight.findIndex((w) => w > 0)
  let value = before ?? (start < 0 ? 0 : values[start]!)
  const elements = values.length
  let last = -1
  for (let n = 0; n <= elements; n++) {
    if (n < elements && weight[n] === 0) continue
    const next = n < elements ? values[n]! : value
    for (let k = last + 1; k < n; k++) values[k] = value + ((next - value) * (k - last)) / (n - last)
    last = n
    value = next
  }
}
