import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { isRefusal } from '../refusal/index.ts'
import { countMagnitudes, type MagnitudeHistogram, magnitudeHistogram } from './histogram.ts'
import { type CenteredPair, type PairHistograms, pairScatter, pairScatterOfCounts } from './pair-scatter.ts'
import { randomFrom } from './random.ts'
import reference from './reference/scatter.json' with { type: 'json' }
import type { Symmetric2 } from './scatter.ts'

function estimate(pair: CenteredPair): Symmetric2 {
  const found = pairScatter(pair)
  if (isRefusal(found)) throw new Error(found.code)
  return found
}

/** Covariance of (5 u + v, 3 u - v): 26, 14, 10; a share of the points far away in one direction. */
function normalPair(label: string, points: number, outliers = 0): CenteredPair {
  const random = randomFrom(label)
  const x = new Float64Array(points)
  const y = new Float64Array(points)
  for (let i = 0; i < points; i++) {
    const [u, v] = [random.normal(), random.normal()]
    const far = i < outliers * points
    x[i] = far ? 500 + u : 5 * u + v
    y[i] = far ? -800 + v : 3 * u - v
  }
  return { x, y }
}

function counted(values: Float64Array, max: number): MagnitudeHistogram {
  const histogram = magnitudeHistogram({ max, bins: 4000 })
  countMagnitudes(histogram, values)
  return histogram
}

function countsOf({ x, y }: CenteredPair, a: number, b: number): PairHistograms {
  return {
    x: counted(x, 40),
    y: counted(y, 40),
    sum: counted(
      x.map((v, i) => v / a + y[i]! / b),
      10
    ),
    difference: counted(
      x.map((v, i) => v / a - y[i]! / b),
      10
    ),
    divisors: { x: a, y: b }
  }
}

describe('pairScatter', () => {
  it('is the same to the bit whatever covariance it is told to be near', () => {
    const pair = normalPair('near', 3000, 0.05)
    const alone = estimate(pair)
    const none = { xx: 0, xy: 0, yy: 0 }
    for (const near of [alone, { xx: 1.1 * alone.xx, xy: alone.xy, yy: 0.9 * alone.yy }, none, { ...alone, xy: 1e9 }])
      expect(pairScatter(pair, near)).toEqual(alone)
  })

  for (const { name, x, y, xx, xy, yy } of reference.pairs) {
    it(`agrees with NumPy and SciPy: ${name}`, () => {
      const found = estimate({ x: Float64Array.from(x), y: Float64Array.from(y) })
      const scale = Math.sqrt(xx * yy)
      expect(Math.abs(found.xx / xx - 1)).toBeLessThan(reference.tolerance)
      expect(Math.abs(found.yy / yy - 1)).toBeLessThan(reference.tolerance)
      expect(Math.abs(found.xy - xy) / scale).toBeLessThan(reference.tolerance)
    })
  }

  it('estimates the covariance of normal data, from points and from counts', () => {
    const pair = normalPair('pair', 100_000)
    const counts = pairScatterOfCounts(countsOf(pair, 4, 4)) // scales are 5.1 and 3.2
    if (isRefusal(counts)) throw new Error(counts.code)
    for (const found of [estimate(pair), counts]) {
      // Asymptotic deviation of a variance from medians: sqrt(2/0.3675/n) = 0.74 %.
      expect(Math.abs(found.xx / 26 - 1)).toBeLessThan(0.025)
      expect(Math.abs(found.yy / 10 - 1)).toBeLessThan(0.025)
      expect(Math.abs(found.xy / 14 - 1)).toBeLessThan(0.03)
    }
  })

  it('gives from counts what the points give, within the width of a bin', () => {
    const pair = normalPair('counts', 5000)
    const points = estimate(pair)
    const counts = pairScatterOfCounts(countsOf(pair, Math.sqrt(points.xx), Math.sqrt(points.yy)))
    if (isRefusal(counts)) throw new Error(counts.code)
    expect(counts.xx / points.xx).toBeCloseTo(1, 2)
    expect(counts.yy / points.yy).toBeCloseTo(1, 2)
    expect(Math.abs(counts.xy - points.xy)).toBeLessThan(0.01 * Math.sqrt(points.xx * points.yy))
  })

  it('stays bounded with a fifth of the points far away, where the plain covariance follows them', () => {
    const clean = estimate(normalPair('far', 5000))
    const found = estimate(normalPair('far', 5000, 0.2))
    // A far fifth moves the median to the quantile 0.625 of the rest: (0.8871/0.6745)^2 = 1.73 times the variance.
    for (const ratio of [found.xx / clean.xx, found.yy / clean.yy]) expect(Math.abs(ratio - 1.73)).toBeLessThan(0.15)
    expect(found.xy * found.xy).toBeLessThan(found.xx * found.yy)
    expect(found.xy).toBeGreaterThan(0)
  })

  it('keeps its sign rules: mirrored, scaled and exchanged columns give the same covariance so transformed', () => {
    const factor = fc.double({ min: 1e-3, max: 1e3, noNaN: true })
    const { x, y } = normalPair('equivariance', 301)
    const still = estimate({ x, y })
    fc.assert(
      fc.property(factor, factor, (p, q) => {
        const found = estimate({ x: y.map((v) => -q * v), y: x.map((v) => p * v) })
        expect(found.xx / (q * q * still.yy)).toBeCloseTo(1, 12)
        expect(found.yy / (p * p * still.xx)).toBeCloseTo(1, 12)
        expect(found.xy / (-p * q * still.xy)).toBeCloseTo(1, 11)
      })
    )
  })

  it('refuses too few points, dead columns and copies; counts beyond their bins', () => {
    const code = (x: number[], y: number[]): string => {
      const found = pairScatter({ x: Float64Array.from(x), y: Float64Array.from(y) })
      return isRefusal(found) ? found.code : 'estimated'
    }
    expect(code([1, 2], [2, 1])).toBe('numerics/too-few-points')
    expect(code([1, -2, 3, 2], [0, 0, 0, 0])).toBe('numerics/degenerate')
    expect(code([1, -2, 3, 2], [2, -4, 6, 4])).toBe('numerics/degenerate')
    expect(code([1, -2, 3, 2], [-2, 4, -6, -4])).toBe('numerics/degenerate')
    const pair = normalPair('refused', 100)
    const of = (counts: PairHistograms): string => {
      const found = pairScatterOfCounts(counts)
      return isRefusal(found) ? found.code : 'estimated'
    }
    const counts = countsOf(pair, 5, 3)
    const empty = magnitudeHistogram({ max: 1, bins: 10 })
    expect(of(counts)).toBe('estimated')
    expect(of({ ...counts, sum: empty })).toBe('numerics/nothing-counted')
    expect(of({ ...counts, y: counted(pair.y, 0.01) })).toBe('numerics/beyond-last-bin')
    const none = magnitudeHistogram({ max: 1, bins: 10 })
    none.counts[0] = 1
    expect(
      of({ ...counts, sum: { ...none, counts: none.counts.map((c) => c * 1e-300) }, difference: counts.sum })
    ).toBe('numerics/degenerate')
  })

  it('throws for columns of different length, NaN, and divisors that are not positive', () => {
    const x = Float64Array.of(1, 2, 3)
    expect(() => pairScatter({ x, y: Float64Array.of(1, 2) })).toThrow(RangeError)
    expect(() => pairScatter({ x, y: Float64Array.of(1, 2, Number.NaN) })).toThrow(RangeError)
    const counts = countsOf(normalPair('thrown', 100), 5, 3)
    expect(() => pairScatterOfCounts({ ...counts, divisors: { x: 0, y: 1 } })).toThrow(RangeError)
  })
})
