/** So many pairs of columns lie in one piece of memory: asking for one piece a revolution costs more than filling it. */
const PAIRS = 32

/** Gives out pairs of columns of one length, `[n]` each. */
export class ColumnPairs {
  readonly #length: number
  #slab = new Float64Array(0)
  #used = 0

  constructor(length: number) {
    this.#length = length
  }

  next(): { readonly x: Float64Array; readonly y: Float64Array } {
    const n = this.#length
    if (this.#used === this.#slab.length) {
      this.#slab = new Float64Array(PAIRS * 2 * n)
      this.#used = 0
    }
    const at = this.#used
    this.#used += 2 * n
    return { x: this.#slab.subarray(at, at + n), y: this.#slab.subarray(at + n, at + 2 * n) }
  }
}
