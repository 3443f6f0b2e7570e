import { log } from './elementary.ts'

/** Four words of 32 bits, not all zero. */
export type RandomState = readonly [number, number, number, number]

/**
 * A stream of pseudo-random numbers (xoshiro128**, period 2^128 - 1): always an argument, never ambient. A stream is
 * named by its seed and the labels it was forked by; its state changes as numbers are drawn, its name does not.
 * source: blackman-vigna-2018
 */
export class Random {
  readonly #name: string
  readonly #words: Uint32Array
  #spare: number | undefined

  /** For replay and tests; elsewhere `randomFrom` and `fork`. Throws RangeError when all words are zero. */
  constructor(name: string, state: RandomState) {
    this.#name = name
    this.#words = Uint32Array.from(state)
    if (this.#words.every((word) => word === 0)) throw new RangeError('a random state must not be zero throughout')
  }

  /** The next 32 bits, 0 … 2^32 - 1. */
  uint32(): number {
    const s = this.#words
    const result = Math.imul(rotated(Math.imul(s[1]!, 5), 7), 9) >>> 0
    const shifted = s[1]! << 9
    s[2]! ^= s[0]!
    s[3]! ^= s[1]!
    s[1]! ^= s[2]!
    s[0]! ^= s[3]!
    s[2]! ^= shifted
    s[3] = rotated(s[3]!, 11)
    return result
  }

  /** Uniform in [0, 1), a multiple of 2^-53. */
  uniform(): number {
    const high = this.uint32() >>> 5
    return (high * 67108864 + (this.uint32() >>> 6)) / 9007199254740992
  }

  /** Uniform integer 0 … n - 1 without bias, 1 <= n <= 2^32; RangeError for another n. */
  below(n: number): number {
    if (!(n >= 1 && n <= 4294967296 && Math.floor(n) === n))
      throw new RangeError(`an integer from 1 to 2^32 is needed, not ${n}`)
    const limit = 4294967296 - (4294967296 % n)
    let draw = this.uint32()
    while (draw >= limit) draw = this.uint32()
    return draw % n
  }

  /** Standard normal, by the polar method. source: marsaglia-bray-1964 */
  normal(): number {
    if (this.#spare !== undefined) {
      const kept = this.#spare
      this.#spare = undefined
      return kept
    }
    let [u, v, square] = [0, 0, 0]
    do {
      u = 2 * this.uniform() - 1
      v = 2 * this.uniform() - 1
      square = u * u + v * v
    } while (square >= 1 || square === 0)
    const factor = Math.sqrt((-2 * log(square)) / square)
    this.#spare = v * factor
    return u * factor
  }

  /** An independent stream for one purpose. Depends on this stream's name and the label only, not on what was drawn. */
  fork(label: string): Random {
    return randomFrom(`${this.#name}/${label.length}:${label}`)
  }
}

/** The stream that belongs to a seed text. */
export const randomFrom = (seed: string): Random => new Random(seed, stateOf(seed))

const rotated = (word: number, bits: number): number => (word << bits) | (word >>> (32 - bits))

/** Final mixer of 32 bits: every input bit changes every output bit with probability near one half. source: appleby-2008 */
function mixed(word: number): number {
  let h = word
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b)
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35)
  return h ^ (h >>> 16)
}

/** 128 bits from a text: four lanes over its UTF-16 units, then mixed across. */
function stateOf(text: string): RandomState {
  const lanes = Int32Array.of(0x243f6a88, 0x85a308d3, 0x13198a2e, 0x03707344)
  for (let i = 0; i < text.length; i++) {
    for (let k = 0; k < 4; k++) lanes[k] = rotated(Math.imul(lanes[k]! ^ text.charCodeAt(i), 0x9e3779b1 + 2 * k), 13)
  }
  for (let round = 0; round < 8; round++) {
    const k = round & 3
    lanes[k] = mixed(lanes[k]! + lanes[(k + 1) & 3]! + text.length + round)
  }
  return [lanes[0]! >>> 0, lanes[1]! >>> 0, lanes[2]! >>> 0, (lanes[3]! | 1) >>> 0]
}
