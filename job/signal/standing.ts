/** A stretch of time over which the position stood, between two stretches over which it advanced. */
export interface Stood {
  /** ruler point at which it stood */
  readonly at: number
  readonly samples: number
  /** how far the recorded signal moved meanwhile, means over 64 samples, recorded units */
  readonly moved: { readonly x: number; readonly y: number }
}

/** Samples whose mean tells where the signal is without its noise. */
const GROUP = 64
/** Shorter stands are the steps of the encoder itself, s. Common practice, no source. */
const LEAST_SECONDS = 0.25
const MOST_ENTRIES = 1024

/**
 * Watches a position that stands. A probe that pauses shows one signal all the while; where the signal goes on, the probe
 * went on and the encoder stood, and places behind it are not known. What stands at the beginning or the end is no stand.
 */
export class StandWatch {
  readonly stood: Stood[] = []
  readonly #least: number
  #samples = 0
  #sum = { x: 0, y: 0, n: 0 }
  #low = { x: Number.POSITIVE_INFINITY, y: Number.POSITIVE_INFINITY }
  #high = { x: Number.NEGATIVE_INFINITY, y: Number.NEGATIVE_INFINITY }

  constructor(rate_Hz: number) {
    this.#least = Math.max(2 * GROUP, Math.round(LEAST_SECONDS * rate_Hz))
  }

  /** A sample at which the position did not advance. */
  stand(x: number, y: number): void {
    this.#samples++
    this.#sum.x += x
    this.#sum.y += y
    this.#sum.n++
    if (this.#sum.n === GROUP) this.#endGroup()
  }

  /** The position, until now at `at`, advances again; `began` where it had advanced before. */
  advance(at: number, began: boolean): void {
    if (this.#samples === 0) return
    if (began && this.#samples >= this.#least && this.stood.length < MOST_ENTRIES)
      this.stood.push({ at, samples: this.#samples, moved: this.#moved() })
    this.forget()
  }

  /** What stood until now was no stand. */
  forget(): void {
    this.#samples = 0
    this.#sum = { x: 0, y: 0, n: 0 }
    this.#low = { x: Number.POSITIVE_INFINITY, y: Number.POSITIVE_INFINITY }
    this.#high = { x: Number.NEGATIVE_INFINITY, y: Number.NEGATIVE_INFINITY }
  }

  #endGroup(): void {
    const { x, y, n } = this.#sum
    this.#low = { x: Math.min(this.#low.x, x / n), y: Math.min(this.#low.y, y / n) }
    this.#high = { x: Math.max(this.#high.x, x / n), y: Math.max(this.#high.y, y / n) }
    this.#sum = { x: 0, y: 0, n: 0 }
  }

  #moved(): Stood['moved'] {
    const of = (low: number, high: number): number => Math.max(0, high - low)
    return { x: of(this.#low.x, this.#high.x), y: of(this.#low.y, this.#high.y) }
  }
}
