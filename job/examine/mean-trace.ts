import { UNIT } from '../signal/index.ts'
import { type MeanTrace, TRACE_STEP } from '../standardize/index.ts'

/** Revolutions of one pass whose mean is kept: 300 mm of grip at a pitch of 0.15 mm. */
export const MOST_TRACED = 2048

/**
 * Gathers the sliding mean of a scan, bounded. Of a longer scan nothing is kept: `overflow` then says that its edges, and
 * so every depth, are not known.
 */
export class MeanTraceBuilder {
  overflow = false
  #parts: Part[] = []

  add(first: number, mean: { readonly x: Float64Array; readonly y: Float64Array }): void {
    if (this.overflow) return
    this.#parts.push({ first, x: thinned(mean.x), y: thinned(mean.y) })
    if (this.#parts.length <= MOST_TRACED) return
    this.overflow = true
    this.#parts = []
  }

  build(): MeanTrace {
    const parts = this.#parts
    const size = parts.length * PER_UNIT
    const trace = { at: new Float64Array(size), x: new Float64Array(size), y: new Float64Array(size) }
    parts.forEach(({ first, x, y }, k) => {
      trace.x.set(x, k * PER_UNIT)
      trace.y.set(y, k * PER_UNIT)
      for (let i = 0; i < PER_UNIT; i++) trace.at[k * PER_UNIT + i] = first + i * TRACE_STEP
    })
    return trace
  }
}

interface Part {
  readonly first: number
  readonly x: Float64Array
  readonly y: Float64Array
}

const PER_UNIT = UNIT / TRACE_STEP

function thinned(column: Float64Array): Float64Array {
  const some = new Float64Array(PER_UNIT)
  for (let i = 0; i < PER_UNIT; i++) some[i] = column[i * TRACE_STEP]!
  return some
}
