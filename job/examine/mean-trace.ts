import type { MeanTrace } from '../standardize/index.ts'

/** Revolutions of one pass whose mean is kept: 300 mm of grip at a pitch of 0.15 mm. */
export const MOST_TRACED = 2048

const LEAST_UNITS = 64

/**
 * Gathers the sliding mean of a scan, bounded. Of a longer scan nothing is kept: `overflow` then says that its edges, and
 * so every depth, are not known.
 */
export class MeanTraceBuilder {
  overflow = false
  #units = 0
  #first = 0
  #step = 1
  #x = new Float64Array(0)
  #y = new Float64Array(0)

  add(first: number, step: number, { x, y }: { readonly x: Float64Array; readonly y: Float64Array }): void {
    if (this.overflow) return
    if (this.#units === MOST_TRACED) {
      this.overflow = true
      this.#x = new Float64Array(0)
      this.#y = new Float64Array(0)
      return
    }
    if (this.#units === 0) this.#first = first
    this.#step = step
    const at = this.#units * x.length
    if (at + x.length > this.#x.length) this.#grow(Math.max(LEAST_UNITS * x.length, 2 * at))
    this.#x.set(x, at)
    this.#y.set(y, at)
    this.#units++
  }

  /** Of a scan that overflowed: an empty trace. */
  build(): MeanTrace {
    const size = this.overflow ? 0 : (this.#units * 512) / this.#step
    const at = new Float64Array(size)
    for (let i = 0; i < size; i++) at[i] = this.#first + i * this.#step
    return { at, x: this.#x.subarray(0, size), y: this.#y.subarray(0, size) }
  }

  #grow(size: number): void {
    const grown = (column: Float64Array) => {
      const fresh = new Float64Array(size)
      fresh.set(column)
      return fresh
    }
    this.#x = grown(this.#x)
    this.#y = grown(this.#y)
  }
}
