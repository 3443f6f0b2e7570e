const MODULUS = 2147483647
const FACTOR = 16807
const HALF_RANGE = 2147483648

/** Draws before the stream is back at its seed. */
export const STREAM_PERIOD = MODULUS - 1

/**
 * Indices floor(u n), 0 … n - 1, of the stream s <- 16807 s mod 2^31 - 1, u = s/(2^31 - 1): any program repeats them from
 * the seed, an integer from 1 to 2^31 - 2; the seed itself is no draw. The shares of the indices are uneven by n/2^31.
 * Throws RangeError for another seed. source: park-miller-1988
 */
export function indexStream(seed: number): (n: number) => number {
  if (!(Number.isInteger(seed) && seed >= 1 && seed < MODULUS))
    throw new RangeError(`a seed from 1 to ${MODULUS - 1} is needed, not ${seed}`)
  let state = seed
  return (n) => {
    state = nextState(state)
    return Math.floor((state / MODULUS) * n)
  }
}

/** The remainder without a division: 2^31 leaves 1. Both products are exact, below 2^46. */
function nextState(state: number): number {
  const product = FACTOR * state
  const high = Math.floor(product / HALF_RANGE)
  const sum = product - high * HALF_RANGE + high
  return sum >= MODULUS ? sum - MODULUS : sum
}
