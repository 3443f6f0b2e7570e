import { exp, log } from '../elementary.ts'
import type { Summed } from './condense.kernel.ts'
import type { LinkLaw, Term } from './links.ts'
import { decay, logOfOneAnd } from './logistic.kernel.ts'

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
export function likelihoodSums({ hit, miss }: LinkLaw, tally: Summed, [b0, b1]: readonly [number, number]): Sums {
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
      if (hits[i] !== 0) {
        hit(eta, term)
        block.value += hits[i]! * term.log
        u = hits[i]! * term.first
        h = -hits[i]! * term.second
      }
      if (misses[i] !== 0) {
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

/** as many factors up to 4 as a product holds without loss, and a logarithm for all of them */
const FACTORS = 64

/**
 * `likelihoodSums` of the logit: ln F = min(eta, 0) - ln(1 + e^-|eta|), the logarithms of many rows taken at once of
 * their product.
 */
export function logitSums({ z, hits, misses }: Summed, [b0, b1]: readonly [number, number]): Sums {
  const total = none()
  for (let start = 0; start < z.length; start += FACTORS) {
    const end = Math.min(start + FACTORS, z.length)
    let [product, value, u0, u1, h00, h01, h11] = [1, 0, 0, 0, 0, 0, 0]
    for (let i = start; i < end; i++) {
      const at = z[i]!
      const eta = b0 + b1 * at
      const small = decay(Math.abs(eta))
      const larger = 1 / (1 + small)
      const n = hits[i]! + misses[i]!
      value += eta > 0 ? -misses[i]! * eta : hits[i]! * eta
      if (n === 1) product *= 1 + small
      else if (n === 2) product *= (1 + small) * (1 + small)
      else value -= n * logOfOneAnd(small)
      const smaller = small * larger
      const u = eta > 0 ? hits[i]! * smaller - misses[i]! * larger : hits[i]! * larger - misses[i]! * smaller
      const h = n * smaller * larger
      u0 += u
      u1 += u * at
      h00 += h
      h01 += h * at
      h11 += h * at * at
    }
    total.value += value - log(product)
    total.u0 += u0
    total.u1 += u1
    total.h00 += h00
    total.h01 += h01
    total.h11 += h11
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
  tally: Summed,
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

/** Log-likelihood, gradient and observed information [row * size + column] of eta = sum of theta_k column_k. */
export interface ColumnSums {
  readonly value: number
  readonly gradient: Float64Array
  readonly curvature: Float64Array
}

export function columnSums(
  { hit, miss }: LinkLaw,
  { columns, hits, misses }: { readonly columns: readonly Float64Array[] } & Pick<Summed, 'hits' | 'misses'>,
  theta: Float64Array
): ColumnSums {
  const size = columns.length
  const gradient = new Float64Array(size)
  const curvature = new Float64Array(size * size)
  const h: Term = { log: 0, first: 0, second: 0 }
  const m: Term = { log: 0, first: 0, second: 0 }
  let value = 0
  for (let i = 0; i < hits.length; i++) {
    let eta = 0
    for (let k = 0; k < size; k++) eta += theta[k]! * columns[k]![i]!
    hit(eta, h)
    miss(eta, m)
    const [n, rest] = [hits[i]!, misses[i]!]
    value += (n !== 0 ? n * h.log : 0) + (rest !== 0 ? rest * m.log : 0)
    const u = (n !== 0 ? n * h.first : 0) + (rest !== 0 ? rest * m.first : 0)
    const bend = -(n !== 0 ? n * h.second : 0) - (rest !== 0 ? rest * m.second : 0)
    for (let k = 0; k < size; k++) {
      gradient[k]! += u * columns[k]![i]!
      for (let j = 0; j < size; j++) curvature[k * size + j]! += bend * columns[k]![i]! * columns[j]![i]!
    }
  }
  return { value, gradient, curvature }
}

/** Chance floor + (ceiling - floor) F(eta): what is summed over places, with its own columns of derivatives. */
export interface Asymptotes {
  readonly floor: number
  readonly ceiling: number
}

/** Log-likelihood, score and expected information over (b0, b1, floor, ceiling), [row * 4 + column]. */
export function asymptoteSums(
  { hit, miss }: LinkLaw,
  { z, hits, misses }: Summed,
  { b0, b1, floor, ceiling }: Asymptotes & { readonly b0: number; readonly b1: number }
): ColumnSums {
  const gradient = new Float64Array(4)
  const curvature = new Float64Array(16)
  const h: Term = { log: 0, first: 0, second: 0 }
  const m: Term = { log: 0, first: 0, second: 0 }
  const to = new Float64Array(4)
  let value = 0
  for (let i = 0; i < z.length; i++) {
    const eta = b0 + b1 * z[i]!
    hit(eta, h)
    miss(eta, m)
    const [f, rest] = [exp(h.log), exp(m.log)]
    const share = floor + (ceiling - floor) * f
    const other = 1 - ceiling + (ceiling - floor) * rest
    value += (hits[i] !== 0 ? hits[i]! * log(share) : 0) + (misses[i] !== 0 ? misses[i]! * log(other) : 0)
    to[0] = (ceiling - floor) * f * h.first
    to[1] = to[0]! * z[i]!
    to[2] = rest
    to[3] = f
    const u = (hits[i] !== 0 ? hits[i]! / share : 0) - (misses[i] !== 0 ? misses[i]! / other : 0)
    const w = share > 0 && other > 0 ? (hits[i]! + misses[i]!) / (share * other) : 0
    for (let k = 0; k < 4; k++) {
      gradient[k]! += u * to[k]!
      for (let j = 0; j < 4; j++) curvature[4 * k + j]! += w * to[k]! * to[j]!
    }
  }
  return { value, gradient, curvature }
}
