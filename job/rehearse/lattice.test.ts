/** Oracles: the plain sum over every coefficient (cubicBSpline is checked in ground/numerics), and constants. */
import { cubicBSpline, randomFrom } from '@trueloop/ground/numerics'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { lineSpline, ringSpline } from './lattice.kernel.ts'
import { lineField, wallField } from './lattice.ts'

const numbers = (length: number): Float64Array => {
  const random = randomFrom('lattice')
  return Float64Array.from({ length }, () => random.normal())
}

/** Every coefficient, the ring laid out five times. */
function slowRing(values: Float64Array, columns: number, { u, v }: { u: number; v: number }): number {
  let sum = 0
  for (let k = 0; k < values.length; k++) {
    const row = Math.floor(k / columns)
    for (let lap = -2; lap <= 2; lap++) {
      sum += values[k]! * cubicBSpline(u - (k % columns) - lap * columns) * cubicBSpline(v - row)
    }
  }
  return sum
}

const slowLine = (values: Float64Array, v: number): number =>
  values.reduce((sum, value, k) => sum + value * cubicBSpline(v - k), 0)

describe('splines over a lattice', () => {
  const places = { u: fc.double({ min: 0, max: 7, noNaN: true }), v: fc.double({ min: -5, max: 10, noNaN: true }) }

  it('on a ring are the sum over all coefficients', () => {
    const values = numbers(7 * 5)
    fc.assert(
      fc.property(fc.record(places), (at) => {
        expect(Math.abs(ringSpline(values, 7, at) - slowRing(values, 7, at))).toBeLessThan(1e-13)
      })
    )
  })

  it('on a line are the sum over all coefficients', () => {
    const values = numbers(6)
    fc.assert(
      fc.property(places.v, (v) => {
        expect(Math.abs(lineSpline(values, v) - slowLine(values, v))).toBeLessThan(1e-13)
      })
    )
  })

  it('of equal coefficients are constant inside', () => {
    const ones = new Float64Array(40).fill(1)
    for (const v of [1, 1.3, 2.5, 3]) expect(ringSpline(ones, 8, { u: 3.7 * v, v })).toBeCloseTo(1, 14)
    for (const v of [1, 7.9, 38]) expect(lineSpline(ones, v)).toBeCloseTo(1, 14)
  })
})

describe('random fields', () => {
  const wall = wallField(
    { rms: 0.5, length_m: 0.0005, around_m: 0.02, along: { from: -0.01, to: 0.09 } },
    randomFrom('wall')
  )
  const line = lineField({ rms: 0.5, knot: 0.1, along: { from: 0, to: 400 } }, randomFrom('line'))
  const rms = (values: readonly number[]) => Math.sqrt(values.reduce((sum, v) => sum + v * v, 0) / values.length)

  it('have their rms', () => {
    const onWall = Array.from({ length: 20_000 }, (_, k) => wall(k * 0.618034, (k % 997) * 8e-5))
    const onLine = Array.from({ length: 20_000 }, (_, k) => line(k * 0.01999))
    // about 8000 independent values on the wall, 4000 on the line: 4 % is more than three standard deviations
    expect(Math.abs(rms(onWall) / 0.5 - 1)).toBeLessThan(0.04)
    expect(Math.abs(rms(onLine) / 0.5 - 1)).toBeLessThan(0.04)
  })

  it('come again after a turn', () => {
    for (const turn of [0.1, 0.999999, 3.25]) expect(wall(turn, 0.01)).toBeCloseTo(wall(turn + 1, 0.01), 10)
    expect(wall(-1e-18, 0.01)).toBeCloseTo(wall(0, 0.01), 12)
  })
})
