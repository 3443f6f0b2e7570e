/** Oracles: scipy.interpolate.BSpline (reference/placing.py), a plain slow twin, and the theory of a mean of white noise. */
import { cubicBSpline, randomFrom } from '@trueloop/ground/numerics'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { UNIT } from './band.ts'
import { type Placeable, placedRoom, placeUneven } from './placing.kernel.ts'
import reference from './reference/placing.json' with { type: 'json' }
import { farthest, fixedColumns } from './testing/columns.ts'
import { finishUnit } from './unit.ts'

const whole = (at: Float64Array, x: Float64Array, y: Float64Array): Placeable => ({ at, x, y, from: 0, to: at.length })

const uneven = whole(
  Float64Array.from({ length: 900 }, (_, i) => 100 + 0.83 * i + 2 * Math.sin(0.05 * i)),
  fixedColumns(900).x,
  fixedColumns(900).y
)

/** All points of a unit that begins at `origin`. */
function placeUnit(samples: Placeable, origin: number, knot: number) {
  const placed = placedRoom(UNIT)
  placeUneven(samples, { origin, step: 1, from: 0, to: UNIT, knot }, placed)
  return placed
}

/** Every sample at every point, by the definition. */
function slowTwin({ at, x, y }: Placeable, origin: number, knot: number) {
  const points = Array.from({ length: UNIT }, (_, n) => {
    const weights = Array.from(at, (a) => cubicBSpline((a - origin - n) / knot))
    const sum = weights.reduce((total, w) => total + w, 0)
    const square = weights.reduce((total, w) => total + w * w, 0)
    const mean = (column: Float64Array) => weights.reduce((total, w, i) => total + w * column[i]!, 0) / sum
    return { x: mean(x), y: mean(y), weight: square > 0 ? (sum * sum) / square : 0 }
  })
  return {
    x: Float64Array.from(points, (point) => point.x),
    y: Float64Array.from(points, (point) => point.y),
    weight: Float64Array.from(points, (point) => point.weight)
  }
}

describe('placeUneven', () => {
  it.each(reference.cases)('with knots $knot points apart is the weighted mean of SciPy', ({ knot, rows }) => {
    const placed = placeUnit(uneven, 150, knot)
    const got = reference.points.map((n) => [placed.x[n]!, placed.y[n]!, placed.weight[n]!])
    for (const [k, row] of rows.entries()) {
      expect(farthest(got[k]!.slice(0, 2), row.slice(0, 2))).toBeLessThan(reference.tolerance)
      expect(Math.abs(got[k]![2]! / row[2]! - 1)).toBeLessThan(reference.tolerance)
    }
  })

  it('is its slow twin everywhere, in gaps and beyond the samples too', () => {
    const some = (column: Float64Array) => column.filter((_, i) => i > 40 && (i < 300 || i > 420) && i < 600)
    const gapped = whole(some(uneven.at), some(uneven.x), some(uneven.y))
    const placed = placeUnit(gapped, 100, 6.84)
    const slow = slowTwin(gapped, 100, 6.84)
    const there = (column: Float64Array) => column.filter((_, n) => slow.weight[n]! > 0)
    expect(placed.weight.map((w) => Math.sign(w))).toEqual(slow.weight.map((w) => Math.sign(w)))
    expect(slow.weight.filter((w) => w === 0).length).toBeGreaterThan(50)
    expect(farthest(there(placed.x), there(slow.x))).toBeLessThan(1e-11)
    expect(farthest(there(placed.y), there(slow.y))).toBeLessThan(1e-11)
    expect(placed.x.every((value, n) => slow.weight[n]! > 0 || Number.isNaN(value))).toBe(true)
  })

  it('is its slow twin for any samples, with few and with many under the spline', () => {
    const steps = fc.array(fc.double({ min: 0, max: 1.6, noNaN: true }), { minLength: 300, maxLength: 900 })
    const cases = fc.record({
      steps,
      knot: fc.double({ min: 0.9, max: 30, noNaN: true }),
      start: fc.integer({ min: -60, max: 200 })
    })
    fc.assert(
      fc.property(cases, ({ steps, knot, start }) => {
        let place = start
        const at = Float64Array.from(steps, (step) => (place += step))
        const { x, y } = fixedColumns(at.length)
        const placed = placeUnit(whole(at, x, y), 0, knot)
        const slow = slowTwin(whole(at, x, y), 0, knot)
        return placed.x.every((value, n) => {
          // a sample at the spline's very end may count for one and not for the other
          if (!(slow.weight[n]! > 0) || !(placed.weight[n]! > 0)) return true
          return Math.abs(value - slow.x[n]!) < 1e-10 && Math.abs(placed.y[n]! - slow.y[n]!) < 1e-10
        })
      }),
      { numRuns: 25 }
    )
  })

  it('looks at its part of the samples only', () => {
    const placed = placeUnit({ ...uneven, from: 200, to: 500 }, 150, 5)
    const part = (column: Float64Array) => column.slice(200, 500)
    const alone = placeUnit(whole(part(uneven.at), part(uneven.x), part(uneven.y)), 150, 5)
    expect(placed).toEqual(alone)
  })

  it('keeps a constant, whatever the samples', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -1000, max: 1000 }),
        fc.array(fc.double({ min: 0, max: UNIT, noNaN: true }), { minLength: 40, maxLength: 300 }),
        (value, places) => {
          const at = Float64Array.from(places).sort()
          const column = new Float64Array(at.length).fill(value)
          const { x, weight } = placeUnit(whole(at, column, column), 0, 9)
          return x.every((v, n) => weight[n] === 0 || Math.abs(v - value) <= 1e-12 * Math.abs(value))
        }
      ),
      { numRuns: 40 }
    )
  })

  it('passes as much white noise as theory has for its weight', () => {
    const random = randomFrom('placing')
    const knot = 8
    const step = 0.5
    const at = Float64Array.from({ length: (UNIT + 80) / step }, (_, i) => -40 + i * step)
    const expected = (step / knot) * reference.noise_per_knot
    let sum = 0
    const rounds = 60
    for (let k = 0; k < rounds; k++) {
      const noise = at.map(() => random.normal())
      const { x } = placeUnit(whole(at, noise, noise), 0, knot)
      sum += x.reduce((total, v) => total + v * v, 0) / UNIT
    }
    // 60 · 512/(2 · 8) independent values or so: the variance is known to about √(2/1900) = 3.2 %, three times that
    expect(Math.abs(sum / rounds / expected - 1)).toBeLessThan(0.1)
    const unit = finishUnit(placeUnit(whole(at, at, at), 0, knot), 'angle', { number: 0, before: undefined })
    expect(Math.abs(unit.noiseGain / expected - 1)).toBeLessThan(1e-3)
  })
})

describe('finishUnit', () => {
  const placedFrom = (from: number, to: number, hole: readonly [number, number]) => {
    const at = Float64Array.from({ length: UNIT }, (_, n) => n).filter(
      (n) => n >= from && n < to && !(n >= hole[0] && n < hole[1])
    )
    return placeUnit(whole(at, at, at), 0, 1)
  }

  it('bridges empty points in a straight line and counts them', () => {
    const unit = finishUnit(placedFrom(0, UNIT, [100, 200]), 'angle', { number: 3, before: { x: 9, y: 9 } })
    // a knot apart from the gap a point still has its sample on one side
    expect(unit.hollow).toBeGreaterThan(90)
    expect(unit.hollow).toBeLessThanOrEqual(100)
    expect(unit.signal.first).toBe(3 * UNIT)
    const [a, b] = [unit.signal.x[100]!, unit.signal.x[199]!]
    for (let n = 100; n < 200; n++) expect(unit.signal.x[n]).toBeCloseTo(a + ((b - a) * (n - 100)) / 99, 9)
  })

  it('begins from what was before, or holds its first value; holds its last to the end', () => {
    const placed = () => placedFrom(50, 400, [0, 0])
    const after = finishUnit(placed(), 'angle', { number: 0, before: { x: -7, y: 5 } })
    const start = after.hollow - (UNIT - 401)
    const there = after.signal.x[start]!
    for (const n of [0, 10, start - 1])
      expect(after.signal.x[n]).toBeCloseTo(-7 + ((there + 7) * (n + 1)) / (start + 1), 9)
    expect(after.signal.y[0]).toBeCloseTo(5 + (there - 5) / (start + 1), 9)
    expect(after.signal.x[UNIT - 1]).toBe(after.signal.x[401])
    const first = finishUnit(placed(), 'angle', { number: 0, before: undefined })
    expect(first.signal.x[0]).toBe(first.signal.x[40])
  })

  it('is a number throughout even where there was no sample at all', () => {
    const unit = finishUnit(placedFrom(0, 0, [0, 0]), 'angle', { number: 0, before: { x: 2, y: 3 } })
    expect(unit.hollow).toBe(UNIT)
    expect(unit.noiseGain).toBe(0)
    expect(new Set(unit.signal.x)).toEqual(new Set([2]))
    expect(new Set(unit.signal.y)).toEqual(new Set([3]))
  })
})
