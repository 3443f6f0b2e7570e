import type { LinkLaw, Term } from './links.ts'
import type { Tally } from './tally.ts'

/** A log-likelihood of eta = b0 + b1 z with its gradient (u) and its negative second derivatives (h). */
export interface Sums {
  value: number
  u0: number
  u1: number
  h00: number
  h01: number
  h11: number
}

/** Rows summed apart before they are added to the whole: the error grows with the root of the rows only. */
const BLOCK = 256

const none = (): Sums => ({ value: 0, u0: 0, u1: 0, h00: 0, h01: 0, h11: 0 })

/** Sum over places of hits ln F + misses ln(1 - F), with derivatives. */
export function likelihoodSums({ hit, miss }: LinkLaw, tally: Tally, [b0, b1]: readonly [number, number]): Sums {
  const { z, hits, misses } = tally
  const total = none()
  const term: Term = { log: 0, first: 0, second: 0 }
  for (let start = 0; start < z.length; start += BLOCK) {
    const end = Math.min(start + BLOCK, z.length)
    const block = none()
    for (let i = start; i < end; i++) {
      const eta = b0 + b1 * z[i]!
      let u = 0
      let h = 0
      if (hits[i]! > 0) {
        hit(eta, term)
        block.value += hits[i]! * term.log
        u = hits[i]! * term.first
        h = -hits[i]! * term.second
      }
      if (misses[i]! > 0) {
        miss(eta, term)
        block.value += misses[i]! * term.log
        u += misses[i]! * term.first
        h -= misses[i]! * term.second
      }
      block.u0 += u
      block.u1 += u * z[i]!
      block.h00 += h
      block.h01 += h * z[i]!
      block.h11 += h * z[i]! * z[i]!
    }
    total.value += block.value
    total.u0 += block.u0
    total.u1 += block.u1
    total.h00 += block.h00
    total.h01 += block.h01
    total.h11 += block.h11
  }
  return total
}

/** Expected information: sums of n w z^k (k = 0..2), w = f^2/(F(1 - F)), and of n dw/deta z^k (k = 0..3). */
export interface InformationSums {
  readonly weights: Float64Array
  readonly slopes: Float64Array
}

export function informationSums(
  { hit, miss }: LinkLaw,
  tally: Tally,
  [b0, b1]: readonly [number, number]
): InformationSums {
  const { z, hits, misses } = tally
  const weights = new Float64Array(3)
  const slopes = new Float64Array(4)
  const h: Term = { log: 0, first: 0, second: 0 }
  const m: Term = { log: 0, first: 0, second: 0 }
  for (let i = 0; i < z.length; i++) {
    const eta = b0 + b1 * z[i]!
    hit(eta, h)
    miss(eta, m)
    if (h.first === 0 || m.first === 0) continue
    const n = hits[i]! + misses[i]!
    let w = -n * h.first * m.first
    let slope = -n * (h.second * m.first + h.first * m.second)
    for (let k = 0; k < 4; k++) {
      if (k < 3) weights[k]! += w
      slopes[k]! += slope
      w *= z[i]!
      slope *= z[i]!
    }
  }
  return { weights, slopes }
}
