import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { bracketKernel, selectKernel, sizeBracketKernel } from './order.kernel.ts'
import { median, medianSize, quantile, quantileInPlace, spread } from './order.ts'
import { randomFrom } from './random.ts'
import reference from './reference/estimates.json' with { type: 'json' }

describe('order statistics', () => {
  it('give numpy.quantile, numpy.median and scipy.stats.median_abs_deviation', () => {
    for (const { values, quantiles, median: middle, deviation, sigma } of reference.order.cases) {
      for (const [p, expected] of quantiles) expect(quantile(values, p!), `p = ${p}`).toBe(expected)
      expect(median(values)).toBe(middle)
      expect(spread(values).deviation).toBe(deviation)
      expect(spread(values).sigma).toBeCloseTo(sigma, 14)
    }
  })

  it('select what a sort would put there, with many equal values too', () => {
    const values = fc.array(fc.oneof(fc.integer({ min: -3, max: 3 }), fc.double({ noNaN: true })), {
      minLength: 1,
      maxLength: 80
    })
    fc.assert(
      fc.property(values, fc.nat(), (list, seed) => {
        const k = seed % list.length
        const sorted = Float64Array.from(list).sort()
        const column = Float64Array.from(list)
        selectKernel(column, k)
        expect(column[k]! === sorted[k]!).toBe(true)
        expect(column.subarray(0, k).every((v) => v <= column[k]!)).toBe(true)
        expect(column.subarray(k).every((v) => v >= column[k]!)).toBe(true)
        expect(column.sort()).toEqual(sorted)
      })
    )
  })

  it('are those of a sort in long columns, whatever their order', () => {
    const random = randomFrom('long columns')
    const makers = [
      () => random.normal(),
      (i: number) => Math.sin(0.7 * i) + 1e-3 * random.normal(), // repeats along with the sample
      (i: number) => (i % 40 < 20 ? 1e9 : -1) * random.uniform(),
      (i: number) => i % 3,
      (i: number) => i,
      () => 5
    ]
    for (const [which, make] of makers.entries()) {
      for (const length of [1023, 1024, 1025, 20_000]) {
        const column = Float64Array.from({ length }, (_, i) => make(i))
        const sorted = column.slice().sort()
        for (const p of [0, 0.001, 0.25, 0.5, 0.9, 1]) {
          const place = (length - 1) * p
          const [low, high] = [sorted[Math.floor(place)]!, sorted[Math.ceil(place)]!]
          const found = quantileInPlace(column, p)
          if (low === high) expect(found, `${which} ${length} ${p}`).toBe(low)
          else
            expect(Math.abs(found - (low + (high - low) * (place % 1)))).toBeLessThanOrEqual(
              1e-12 * Math.abs(high - low)
            )
        }
        expect(column.sort()).toEqual(sorted)
      }
    }
  })

  it('bracket as a plain filter does, and count what lies beside', () => {
    const column = Float64Array.from({ length: 300 }, (_, i) => (i * 37) % 101)
    const band = new Float64Array(300)
    const { below, inside, above } = bracketKernel(column, [20, 60], band)
    expect(below).toBe(column.filter((v) => v < 20).length)
    expect(above).toBe(column.filter((v) => v > 60).length)
    expect(band.subarray(0, inside)).toEqual(column.filter((v) => v >= 20 && v <= 60))
    const all = { below: 0, inside: 300, above: 0 }
    expect(bracketKernel(column, [Number.NEGATIVE_INFINITY, 200], band)).toEqual(all)
    column[7] = Number.NaN
    expect(bracketKernel(column, [Number.NEGATIVE_INFINITY, 200], band)).toEqual({ ...all, inside: 299 })
  })

  it('bracket sizes as their slow twin does', () => {
    const random = randomFrom('sizes')
    const x = Float64Array.from({ length: 500 }, () => random.normal())
    const y = Float64Array.from({ length: 500 }, () => random.normal())
    const band = new Float64Array(500)
    const slow = x.map((value, i) => Math.abs(0.3 * value - 2 * y[i]!))
    const { below, inside, above } = sizeBracketKernel({ x, y, p: 0.3, q: -2 }, [0.5, 2], band)
    expect(band.subarray(0, inside)).toEqual(slow.filter((v) => v >= 0.5 && v <= 2))
    expect([below, above]).toEqual([slow.filter((v) => v < 0.5).length, slow.filter((v) => v > 2).length])
  })

  it('have the median of sizes without their column, to the bit', () => {
    const random = randomFrom('median of sizes')
    const makers = [() => random.normal(), (i: number) => (i % 40 < 20 ? 1e9 : 0), (i: number) => i % 3]
    for (const length of [1, 2, 3, 1023, 1024, 1025, 9001])
      for (const make of makers) {
        const x = Float64Array.from({ length }, (_, i) => make(i))
        const y = Float64Array.from({ length }, () => random.normal())
        const slow = median(x.map((value, i) => Math.abs(0.7 * value - 1.1 * y[i]!)))
        for (const guess of [undefined, slow, 1.08 * slow, 3 * slow, 0, Number.NaN])
          expect(medianSize({ x, y, p: 0.7, q: -1.1 }, guess)).toBe(slow)
      }
    const broken = new Float64Array(2000).fill(1, 0, 1999).fill(Number.NaN, 1999)
    expect(() => medianSize({ x: broken, y: broken, p: 1, q: 0 })).toThrow(RangeError)
    expect(() => medianSize({ x: new Float64Array(0), y: new Float64Array(0), p: 1, q: 0 })).toThrow(RangeError)
  })

  it('take time proportional to the length on sorted, reversed and constant columns', () => {
    for (const make of [(i: number) => i, (i: number) => -i, () => 1, (i: number) => i % 2]) {
      const column = Float64Array.from({ length: 400_000 }, (_, i) => make(i))
      const started = performance.now()
      quantileInPlace(column, 0.5)
      expect(performance.now() - started).toBeLessThan(2000) // a quadratic method would need minutes
    }
  })

  it('throw for no values, NaN, and shares outside 0 to 1', () => {
    expect(() => median([])).toThrow(RangeError)
    expect(() => median([1, Number.NaN])).toThrow(RangeError)
    expect(() => median(new Float64Array(2000).fill(Number.NaN, 700, 701))).toThrow(RangeError)
    expect(() => quantile([1], 1.1)).toThrow(RangeError)
    expect(() => quantile([1], Number.NaN)).toThrow(RangeError)
  })
})
