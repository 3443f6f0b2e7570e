const MODULUS = 2147483647
const FACTOR = 16807
const HALF_RANGE = 2147483648

/** Draws before the stream is back at its seed. */
export const STREAM_PERIOD = MODULUS - 1

/**
 * Indices floor(u n), 0 … n - 1, of the stream s <- 16807 s mod 2^31 - 1, u = s/(2^31 - 1): any program repeats them from
 * the seed, an integer from 1 to 2^31 - 2; the seed itself is no draw. The shares of the indices are uneven by n/2^31.
 * source: park-miller-1988
 */
export class IndexStream {
  #state: number

  /** Throws RangeError for another seed. */
  constructor(seed: number) {
    if (!(Number.isInteger(seed) && seed >= 1 && seed < MODULUS))
      throw new RangeError(`a seed from 1 to ${MODULUS - 1} is needed, not ${seed}`)
    this.#state = seed
  }

  /** As many draws as there are counts; how often each index came. */
  countInto(counts: Float64Array): void {
    const n = counts.length
    let state = this.#state
    counts.fill(0)
    for (let i = 0; i < n; i++) {
      state = nextState(state)
      counts[Math.floor((state / MODULUS) * n)]! += 1
    }
    this.#state = state
  }

  below(n: number): number {
    this.#state = nextState(this.#state)
    return Math.floor((this.#state / MODULUS) * n)
  }
}

/** The remainder without a division: 2^31 leaves 1. All of it exact, below 2^46. */
function nextState(state: number): number {
  const product = FACTOR * state
  const high = Math.floor(product / HALF_RANGE)
  const sum = product - high * HALF_RANGE + high
  return sum >= MODULUS ? sum - MODULUS : sum
}
