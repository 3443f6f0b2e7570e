import { decay } from '../binary/logistic.kernel.ts'

/** Rows by place in the first `length` elements of columns; `trials` of each, and of them `hits`. */
export interface Packed {
  readonly z: Float64Array
  readonly hits: Float64Array
  readonly trials: Float64Array
  length: number
}

/** Leaves out places at which nothing was tried. */
export function pack(z: Float64Array, hits: Float64Array, trials: Float64Array, out: Packed): void {
  const { z: toZ, hits: toHits, trials: toTrials } = out
  let kept = 0
  for (let i = 0; i < z.length; i++) {
    // written in any case, and kept by moving on: a jump that can't be foreseen costs more
    toZ[kept] = z[i]!
    toHits[kept] = hits[i]!
    toTrials[kept] = trials[i]!
    kept += trials[i] === 0 ? 0 : 1
  }
  out.length = kept
}

/** Whether hits and misses overlap: see `splitOf`. Looks from both ends as far as it must. */
export function isMixed({ hits, trials, length }: Packed): boolean {
  let [firstHit, lastMiss] = [0, length - 1]
  while (firstHit < length && hits[firstHit] === 0) firstHit++
  while (lastMiss >= 0 && hits[lastMiss] === trials[lastMiss]) lastMiss--
  let [firstMiss, lastHit] = [0, length - 1]
  while (firstMiss < length && hits[firstMiss] === trials[firstMiss]) firstMiss++
  while (lastHit >= 0 && hits[lastHit] === 0) lastHit--
  return lastMiss > firstHit && lastHit > firstMiss
}

/** A step that is no longer one of somebody near: relative to max(1, |coefficient|). */
const FAR = 2
const MOST_STEPS = 12

export interface Near {
  readonly b0: number
  readonly b1: number
  /** a step below it, relative to max(1, |coefficient|), is the last one, and leaves its square */
  readonly within: number
}

/**
 * Newton's steps of the logit from a place that is near the best in most cases. The likelihood is concave, so where they
 * die out is the best; undefined where they don't soon, and the search with care has to find it.
 */
export function nearBest(
  { z, hits, trials, length }: Packed,
  start: Near
): { readonly b0: number; readonly b1: number } | undefined {
  let { b0, b1 } = start
  for (let step = 0; step < MOST_STEPS; step++) {
    let [u0, u1, h00, h01, h11] = [0, 0, 0, 0, 0]
    for (let i = 0; i < length; i++) {
      const at = z[i]!
      const eta = b0 + b1 * at
      const small = decay(Math.abs(eta))
      const larger = 1 / (1 + small)
      const n = trials[i]!
      const u = hits[i]! - n * (eta > 0 ? larger : small * larger)
      const h = n * small * larger * larger
      const hAt = h * at
      u0 += u
      u1 += u * at
      h00 += h
      h01 += hAt
      h11 += hAt * at
    }
    const det = h00 * h11 - h01 * h01
    const s0 = (h11 * u0 - h01 * u1) / det
    const s1 = (h00 * u1 - h01 * u0) / det
    b0 += s0
    b1 += s1
    const size = Math.max(Math.abs(s0) / Math.max(1, Math.abs(b0)), Math.abs(s1) / Math.max(1, Math.abs(b1)))
    if (!(size < FAR)) return undefined
    if (size < start.within) return { b0, b1 }
  }
  return undefined
}
