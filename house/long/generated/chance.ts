/**
 * The exact distribution of a count of independent events that have a chance each of their own (Poisson-binomial):
 * P(K = k) by convolution, one event after another. No approximation, so that it holds for rare and for common events.
 */

/** Least and greatest count that a rate of the given chances leaves at most (1 − level)/2 below and above. */
export interface Acceptance {
  readonly least: number
  readonly most: number
  readonly expected: number
}

/** P(K = k) for k from 0 to the number of events; a tail of less than 1e-300 is nothing. */
export function countChances(chances: readonly number[]): Float64Array {
  const mass = new Float64Array(chances.length + 1)
  mass[0] = 1
  let top = 0
  chances.forEach((p, n) => {
    if (!(p >= 0 && p <= 1)) throw new RangeError(`a chance lies from 0 to 1, not ${p}`)
    top = Math.min(n + 1, top + 1)
    for (let k = top; k > 0; k--) mass[k] = mass[k]! * (1 - p) + mass[k - 1]! * p
    mass[0]! *= 1 - p
    while (top > 0 && mass[top]! < NOTHING) top--
  })
  return mass
}

const NOTHING = 1e-300

/** Counts that a test of the stated chances at this level lets pass: P(K < least) and P(K > most) are each ≤ (1 − level)/2. */
export function acceptanceOf(chances: readonly number[], level: number): Acceptance {
  const mass = countChances(chances)
  const tail = 0.5 * (1 - level)
  let least = 0
  for (let below = mass[0]!; below <= tail; below += mass[least]!) least++
  let most = mass.length - 1
  for (let above = mass[most]!; above <= tail && most > 0; above += mass[most]!) most--
  return { least, most, expected: chances.reduce((sum, p) => sum + p, 0) }
}

/** Whether a count lies where the stated chances let it lie. */
export const isWithin = ({ least, most }: Acceptance, count: number): boolean => count >= least && count <= most
