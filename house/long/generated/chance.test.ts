/**
 * Oracles: chances worked out by hand; SciPy 1.x `scipy.stats.binom` and `numpy` convolution of (1 − p, p) for the others,
 * in reference/chance.json with the script beside it.
 */
import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { acceptanceOf, countChances, isWithin } from './chance.ts'

interface Case {
  readonly chances: readonly number[]
  readonly mass: readonly number[]
  readonly level: number
  readonly least: number
  readonly most: number
}

const { cases, binomial } = JSON.parse(readFileSync(new URL('reference/chance.json', import.meta.url), 'utf8')) as {
  readonly cases: readonly Case[]
  readonly binomial: readonly (Omit<Case, 'chances' | 'mass'> & { readonly n: number; readonly p: number })[]
}

describe('chances of a count', () => {
  it('are those worked out by hand for 1/2, 1/3, 1/4', () => {
    const mass = countChances([1 / 2, 1 / 3, 1 / 4])
    const byHand = [6 / 24, 11 / 24, 6 / 24, 1 / 24]
    byHand.forEach((p, k) => {
      expect(mass[k]).toBeCloseTo(p, 14)
    })
  })
  it.each(cases)('are those of the reference, and the counts that they let pass, $least to $most', (one) => {
    const mass = countChances(one.chances)
    one.mass.forEach((p, k) => {
      expect(Math.abs(mass[k]! - p)).toBeLessThan(1e-13)
    })
    expect(acceptanceOf(one.chances, one.level)).toMatchObject({ least: one.least, most: one.most })
  })
  it.each(binomial)('let pass what a binomial of $n and $p lets pass', ({ n, p, level, least, most }) => {
    expect(acceptanceOf(new Array(n).fill(p), level)).toMatchObject({ least, most })
  })
  it('need chances from 0 to 1', () => expect(() => countChances([0.5, 1.5])).toThrow(RangeError))
  it('lie within, ends included', () => {
    const region = { least: 2, most: 5, expected: 3 }
    expect([1, 2, 5, 6].map((count) => isWithin(region, count))).toEqual([false, true, true, false])
  })
})
