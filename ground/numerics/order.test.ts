import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { selectKernel } from './order.kernel.ts'
import { median, quantile, quantileInPlace, spread } from './order.ts'
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
    expect(() => quantile([1], 1.1)).toThrow(RangeError)
    expect(() => quantile([1], Number.NaN)).toThrow(RangeError)
  })
})
