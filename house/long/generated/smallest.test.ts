/** Oracles: ranks counted by hand; scipy.stats.gumbel_r.ppf(1 - 1/200, 0.1, 0.02) = 0.205916... for the tail. */
import { describe, expect, it } from 'vitest'
import { levelByTail, levelPassedBy } from './smallest.ts'

describe('the level that so many blank holes pass', () => {
  const ten = [3, 1, 2, 10, 9, 8, 7, 6, 5, 4]

  it('lies between the ranks', () => {
    expect(levelPassedBy(0.2, ten)).toBe(8.5)
    expect(ten.filter((one) => one >= levelPassedBy(0.2, ten))).toHaveLength(2)
    expect(levelPassedBy(0.3, ten)).toBe(7.5)
  })
  it('is the highest one where fewer than one hole may pass', () => expect(levelPassedBy(0.001, ten)).toBe(10))

  it('is that of the tail where few holes are there', () => {
    // values at even shares of a Gumbel with m = 0.1, s = 0.02: m − s ln(−ln q)
    const even = Array.from({ length: 4000 }, (_, k) => 0.1 - 0.02 * Math.log(-Math.log((k + 0.5) / 4000)))
    expect(Math.abs(levelByTail(1 / 200, even) - 0.205916)).toBeLessThan(3e-4)
  })
})
