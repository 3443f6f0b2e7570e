import { describe, expect, it } from 'vitest'
import { Random, randomFrom } from './random.ts'

const draws = (random: Random, n: number): number[] => Array.from({ length: n }, () => random.uniform())

describe('Random', () => {
  it('gives the published sequence of xoshiro128** 1.1 from the state 1, 2, 3, 4', () => {
    // Outputs of the authors' C program as printed in the tests of the rand_xoshiro crate. source: blackman-vigna-2018
    const published = [
      11520, 0, 5927040, 70819200, 2031721883, 1637235492, 1287239034, 3734860849, 3729100597, 4258142804
    ]
    const random = new Random('published', [1, 2, 3, 4])
    expect(published.map(() => random.uint32())).toEqual(published)
  })

  it('repeats for the same seed and differs for another one', () => {
    expect(draws(randomFrom('a'), 20)).toEqual(draws(randomFrom('a'), 20))
    expect(draws(randomFrom('a'), 20)).not.toEqual(draws(randomFrom('b'), 20))
    expect(() => new Random('zero', [0, 0, 0, 0])).toThrow(RangeError)
  })

  it('forks by name: whatever was drawn before, and never the same path twice', () => {
    const parent = randomFrom('seed')
    const before = draws(parent.fork('noise'), 10)
    draws(parent, 7)
    expect(draws(parent.fork('noise'), 10)).toEqual(before)
    const paths = [
      parent.fork('a').fork('b'),
      parent.fork('a/1:b'),
      parent.fork('ab'),
      parent.fork('b').fork('a'),
      parent
    ]
    expect(new Set(paths.map((random) => random.uint32())).size).toBe(paths.length)
  })

  it('fills [0, 1) evenly: chi-square over 100 cells, mean and pairs of neighbors', () => {
    const values = draws(randomFrom('uniform'), 100_000)
    const cells = new Float64Array(100)
    for (const value of values) cells[Math.floor(value * 100)]! += 1
    const chiSquare = cells.reduce((sum, count) => sum + (count - 1000) ** 2 / 1000, 0)
    expect(chiSquare).toBeGreaterThan(60) // 0.1 % and 99.9 % points of chi-square with 99 degrees: 61.1, 148.2
    expect(chiSquare).toBeLessThan(149)
    const product = values.reduce((sum, value, i) => sum + (value - 0.5) * ((values[i - 1] ?? 0.5) - 0.5), 0)
    expect(Math.abs(product / values.length)).toBeLessThan(4 / 12 / Math.sqrt(values.length))
  })

  it('draws streams of neighboring labels that are not correlated', () => {
    const parent = randomFrom('labels')
    for (let k = 0; k < 20; k++) {
      const a = draws(parent.fork(`hole ${k}`), 2000)
      const b = draws(parent.fork(`hole ${k + 1}`), 2000)
      const product = a.reduce((sum, value, i) => sum + (value - 0.5) * (b[i]! - 0.5), 0) / a.length
      expect(Math.abs(product)).toBeLessThan(4.5 / 12 / Math.sqrt(a.length))
    }
  })

  it('draws integers without bias, also where n does not divide 2^32', () => {
    const random = randomFrom('below')
    const n = 3 * 2 ** 30 // a plain remainder would draw the first third twice as often
    let low = 0
    for (let i = 0; i < 30_000; i++) if (random.below(n) < 2 ** 30) low++
    expect(Math.abs(low - 10_000)).toBeLessThan(4 * Math.sqrt(30_000 * (2 / 9)))
    expect(Array.from({ length: 50 }, () => random.below(1))).toEqual(new Array(50).fill(0))
    for (const wrong of [0, -1, 1.5, 2 ** 33, Number.NaN]) expect(() => random.below(wrong)).toThrow(RangeError)
  })

  it('draws normal numbers: moments within four standard errors', () => {
    const random = randomFrom('normal')
    const n = 100_000
    const values = Array.from({ length: n }, () => random.normal())
    const moment = (k: number): number => values.reduce((sum, value) => sum + value ** k, 0) / n
    expect(Math.abs(moment(1))).toBeLessThan(4 / Math.sqrt(n))
    expect(Math.abs(moment(2) - 1)).toBeLessThan(4 * Math.sqrt(2 / n))
    expect(Math.abs(moment(3))).toBeLessThan(4 * Math.sqrt(15 / n))
    expect(Math.abs(moment(4) - 3)).toBeLessThan(4 * Math.sqrt(96 / n))
  })
})
