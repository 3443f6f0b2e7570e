import { borrowColumn, giveBack, outgrown } from '@trueloop/ground/numerics'
import type { MeanTrace } from '../standardize/index.ts'

/** Revolutions of one pass whose mean is kept: 300 mm of grip at a pitch of 0.15 mm. */
export const MOST_TRACED = 2048

const LEAST_UNITS = 128

/**
 * Gathers the sliding mean of a scan, bounded. Of a longer scan nothing is kept: `overflow` then says that its edges, and
 * so every depth, are not known.
 */
export class MeanTraceBuilder {
  overflow = false
  #units = 0
  #first = 0
  #step = 1
  #at = new Float64Array(0)
  #x = new Float64Array(0)
  #y = new Float64Array(0)

  add(first: number, step: number, { x, y }: { readonly x: Float64Array; readonly y: Float64Array }): void {
    if (this.overflow) return
    if (this.#units === MOST_TRACED) {
      this.overflow = true
      this.release()
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
    if (this.#at.length !== this.#x.length) this.#at = borrowColumn(this.#x.length)
    const at = this.#at.subarray(0, size)
    for (let i = 0; i < size; i++) at[i] = this.#first + i * this.#step
    return { at, x: this.#x.subarray(0, size), y: this.#y.subarray(0, size) }
  }

  /** What was built holds no longer. */
  release(): void {
    giveBack(this.#at)
    giveBack(this.#x)
    giveBack(this.#y)
    this.#at = new Float64Array(0)
    this.#x = new Float64Array(0)
    this.#y = new Float64Array(0)
  }

  #grow(size: number): void {
    this.#x = outgrown(this.#x, size)
    this.#y = outgrown(this.#y, size)
  }
}
