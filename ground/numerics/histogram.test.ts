import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { isRefusal } from '../refusal/index.ts'
import {
  cloudOf,
  countMagnitudes,
  countPoints,
  histogramTotal,
  magnitudeHistogram,
  magnitudeQuantile,
  mergedMagnitudes,
  mergedPlanes,
  planeHistogram,
  pointsOutside
} from './histogram.ts'
import reference from './reference/estimates.json' with { type: 'json' }

const { magnitude, plane, tolerance } = reference.histogram

function magnitudesOf(values: readonly number[]) {
  const histogram = magnitudeHistogram({ max: magnitude.max, bins: magnitude.bins })
  countMagnitudes(histogram, values)
  return histogram
}

function planeOf(x: readonly number[], y: readonly number[]) {
  const histogram = planeHistogram({ x: plane.xAxis, y: plane.yAxis })
  countPoints(histogram, x, y)
  return histogram
}

describe('magnitude histogram', () => {
  it('counts as numpy.histogram and interpolates as numpy.interp over its cumulative counts', () => {
    const histogram = magnitudesOf(magnitude.values)
    expect(Array.from(histogram.counts)).toEqual([...magnitude.counts, magnitude.overflow])
    for (const [p, expected] of magnitude.quantiles) {
      expect(Math.abs((magnitudeQuantile(histogram, p!) as number) - expected!)).toBeLessThan(tolerance)
    }
    expect(magnitudeQuantile(magnitudesOf([0.5]), 0)).toBe(18 / 37)
  })

  it('is the same however the values are cut, merged and ordered', () => {
    const values = fc.array(fc.double({ min: -2, max: 2, noNaN: true }), { maxLength: 60 })
    fc.assert(
      fc.property(values, values, values, (a, b, c) => {
        const whole = magnitudesOf([...a, ...b, ...c])
        const [p, q, r] = [magnitudesOf(a), magnitudesOf(b), magnitudesOf(c)]
        expect(mergedMagnitudes(mergedMagnitudes(p, q), r)).toEqual(whole)
        expect(mergedMagnitudes(p, mergedMagnitudes(r, q))).toEqual(whole)
        expect(histogramTotal(whole)).toBe(a.length + b.length + c.length)
      })
    )
  })

  it('puts edges into the upper bin, and the end and infinity into the overflow', () => {
    const histogram = magnitudeHistogram({ max: 1, bins: 4 })
    countMagnitudes(histogram, [0, -0.25, 0.5, 0.9999, 1, -7, Number.POSITIVE_INFINITY])
    expect(Array.from(histogram.counts)).toEqual([1, 1, 1, 1, 3])
  })

  it('refuses a quantile of nothing, and one beyond its bins', () => {
    const empty = magnitudeQuantile(magnitudesOf([]), 0.5)
    expect(isRefusal(empty) && empty.code).toBe('numerics/nothing-counted')
    const beyond = magnitudeQuantile(magnitudesOf([0.1, 5, 5]), 0.5)
    expect(isRefusal(beyond) && beyond.code).toBe('numerics/beyond-last-bin')
  })

  it('throws for NaN, other bins and impossible bins', () => {
    expect(() => magnitudesOf([Number.NaN])).toThrow(RangeError)
    expect(() => magnitudeQuantile(magnitudesOf([1]), 2)).toThrow(RangeError)
    expect(() => mergedMagnitudes(magnitudesOf([]), magnitudeHistogram({ max: 1, bins: 3 }))).toThrow(RangeError)
    for (const spec of [
      { max: 0, bins: 3 },
      { max: 1, bins: 0 },
      { max: 1, bins: 1.5 },
      { max: Number.NaN, bins: 3 }
    ]) {
      expect(() => magnitudeHistogram(spec)).toThrow(RangeError)
    }
  })
})

describe('plane histogram', () => {
  it('counts as numpy.histogram2d', () => {
    const histogram = planeOf(plane.x, plane.y)
    expect(Array.from(histogram.counts.subarray(0, -1))).toEqual(plane.counts)
    expect(pointsOutside(histogram)).toBe(plane.x.length - plane.counts.reduce((a, b) => a + b, 0))
    expect(histogramTotal(histogram)).toBe(plane.x.length)
  })

  it('merges exactly', () => {
    const merged = mergedPlanes(
      planeOf(plane.x.slice(0, 100), plane.y.slice(0, 100)),
      planeOf(plane.x.slice(100), plane.y.slice(100))
    )
    expect(merged).toEqual(planeOf(plane.x, plane.y))
    expect(() => mergedPlanes(merged, planeHistogram({ x: plane.yAxis, y: plane.xAxis }))).toThrow(RangeError)
  })

  it('gives bin centers and counts as a cloud', () => {
    const histogram = planeHistogram({ x: { min: 0, max: 2, bins: 2 }, y: { min: -1, max: 1, bins: 4 } })
    countPoints(histogram, [0.1, 0.2, 1.9, 5], [-0.9, -0.6, 0.6, 0])
    const { x, y, weights } = cloudOf(histogram)
    expect([Array.from(x), Array.from(y), Array.from(weights)]).toEqual([
      [0.5, 1.5],
      [-0.75, 0.75],
      [2, 1]
    ])
    expect(() => countPoints(histogram, [1], [])).toThrow(RangeError)
    expect(() => countPoints(histogram, [Number.NaN], [0])).toThrow(RangeError)
  })
})
