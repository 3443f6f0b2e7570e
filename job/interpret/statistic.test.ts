/** Oracles: SciPy and NumPy (reference/statistic.py); plain slow twins; what "the larger of two covariances" means. */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { joinRows } from '../signal/index.ts'
import { coneOf, weighingOf } from './cone.ts'
import { type Covariance, largerOf, varianceAlong } from './covariance.ts'
import { peaksOf } from './peaks.ts'
import reference from './reference/statistic.json' with { type: 'json' }
import { rangeOf, screenLevels } from './screen.kernel.ts'
import { weigh } from './statistic.kernel.ts'

const u = Float64Array.from({ length: 512 }, (_, t) => ((7 * t * t + 13 * t) % 101) / 101 - 0.5)
const v = Float64Array.from({ length: 512 }, (_, t) => ((3 * t * t + 29 * t) % 103) / 103 - 0.5 - 0.4 * u[t]!)
/** What is in a column for work means nothing. */
const dirty = () => new Float64Array(512).fill(7)
const of = ([xx, xy, yy]: readonly number[]): Covariance => ({ xx: xx!, xy: xy!, yy: yy! })
const near = (found: number, expected: number, tolerance = reference.tolerance) =>
  expect(Math.abs(found - expected)).toBeLessThan(tolerance)

const covariances = fc
  .tuple(
    fc.double({ min: 0.1, max: 10, noNaN: true }),
    fc.double({ min: 0.1, max: 10, noNaN: true }),
    fc.double({ min: -0.95, max: 0.95, noNaN: true })
  )
  .map(([sx, sy, rho]): Covariance => ({ xx: sx * sx, xy: rho * sx * sy, yy: sy * sy }))
const directions = Array.from({ length: 72 }, (_, k) => ({
  x: Math.cos((Math.PI * k) / 72),
  y: Math.sin((Math.PI * k) / 72)
}))

describe('joinRows', () => {
  const rows = { from: 0, to: 512, perTurn: 32, length: 512 }
  const weights = Float64Array.from(reference.weights)

  it('is the correlation of SciPy along the rows', () => {
    const out = new Float64Array(512)
    for (let from = 0; from < 512; from += 32) joinRows(u, weights, out, { ...rows, from, to: from + 32 })
    for (const [k, i] of reference.keep.entries()) near(out[i]!, reference.joined[k]!)
  })

  it.each([0, 1, 2, 3, 4, 7])('is its definition with %i rows to either side, at the ends too', (reach) => {
    const some = Float64Array.from({ length: reach + 1 }, (_, r) => 1 / (2 + r))
    const at = (i: number) => (i < 0 || i >= 512 ? 0 : u[i]!)
    const plain = Float64Array.from(u, (value, i) => {
      let sum = some[0]! * value
      for (let r = 1; r <= reach; r++) sum += some[r]! * (at(i - 32 * r) + at(i + 32 * r))
      return sum
    })
    const out = new Float64Array(512)
    for (let from = 0; from < 512; from += 32) joinRows(u, some, out, { ...rows, from, to: from + 32 })
    expect(Array.from(out)).toEqual(Array.from(plain))
  })
})

describe('largerOf', () => {
  it('is the dominating covariance of SciPy’s generalized eigenvectors', () => {
    const { xx, xy, yy } = largerOf(of(reference.covariance), of(reference.other))
    ;[xx, xy, yy].forEach((value, k) => {
      near(value, reference.larger[k]!)
    })
  })

  it('lies below neither in any direction, does not depend on the order, and is one of them where that is larger', () => {
    fc.assert(
      fc.property(covariances, covariances, fc.double({ min: 1, max: 9, noNaN: true }), (a, b, times) => {
        const both = largerOf(a, b)
        const swapped = largerOf(b, a)
        for (const d of directions) {
          const most = Math.max(varianceAlong(a, d), varianceAlong(b, d))
          expect(varianceAlong(both, d)).toBeGreaterThanOrEqual(most * (1 - 1e-9))
          expect(Math.abs(varianceAlong(swapped, d) / varianceAlong(both, d) - 1)).toBeLessThan(1e-6)
        }
        const more = { xx: times * a.xx, xy: times * a.xy, yy: times * a.yy }
        for (const d of directions)
          expect(Math.abs(varianceAlong(largerOf(a, more), d) / varianceAlong(more, d) - 1)).toBeLessThan(1e-9)
      })
    )
  })
})

describe('weigh', () => {
  const [from_rad, to_rad] = reference.cone as [number, number]
  const weighing = weighingOf(of(reference.larger), { from_rad, to_rad })

  it('is the largest projection over the cone, by brute force', () => {
    const out = weigh(u, v, weighing, { least: 0, out: dirty() })
    for (const [k, i] of reference.keep.entries()) near(out[i]!, reference.statistic[k]!, reference.statisticTolerance)
  })

  it('leaves out what is below the least, and is odd', () => {
    const all = weigh(u, v, weighing, { least: 0, out: dirty() })
    const some = weigh(u, v, weighing, { least: 2, out: dirty() })
    const opposite = weigh(
      u.map((x) => -x),
      v.map((y) => -y),
      weighing,
      { least: 0, out: dirty() }
    )
    expect(some.some((value) => value === 0)).toBe(true)
    for (let i = 0; i < 512; i++) {
      expect(some[i] === 0 || some[i] === all[i]).toBe(true)
      if (Math.abs(all[i]!) >= 2) expect(some[i]).toBe(all[i])
      expect(opposite[i]! + all[i]!).toBe(0)
    }
  })
})

describe('coneOf', () => {
  const rule = { margin_rad: 0.2, least_rad: 0.4 }
  it.each([
    [[1.2], 1, 1.4],
    [[1.2, 1.5, 0.9], 0.7, 1.7],
    [[0.5], 0.4, 0.7],
    [[0.3], 0.3, 0.5],
    [[2.7], 2.5, Math.PI - 0.4],
    [[3], 2.8, 3]
  ])('of notches at %j', (phases, from, to) => {
    const cone = coneOf(phases, rule)
    expect(cone.from_rad).toBeCloseTo(from, 12)
    expect(cone.to_rad).toBeCloseTo(to, 12)
  })
})

describe('peaksOf', () => {
  it('are the local extremes above the level, strongest first: a plain slow search', () => {
    const column = fc.array(fc.integer({ min: -4, max: 4 }), { minLength: 64, maxLength: 64 })
    fc.assert(
      fc.property(column, (values) => {
        const statistic = Float64Array.from(values)
        const peaks = peaksOf(statistic, { level: 2, perTurn: 8 })
        const beats = (i: number, j: number) => {
          const [a, b] = [Math.abs(values[i]!), Math.sign(values[i]!) * values[j]!]
          return a > b || (a === b && i < j)
        }
        const slow = values.flatMap((value, i) => {
          if (Math.abs(value) < 2) return []
          const around = [-9, -8, -7, -1, 1, 7, 8, 9].map((k) => i + k).filter((j) => j >= 0 && j < 64)
          return around.every((j) => beats(i, j)) ? [i] : []
        })
        expect([...peaks].sort((a, b) => a - b)).toEqual(slow)
        const sizes = peaks.map((i) => Math.abs(values[i]!))
        expect(sizes).toEqual([...sizes].sort((a, b) => b - a))
      })
    )
  })
})

describe('the screen', () => {
  const form = { xx: 2, xy: -0.5, yy: 1 }
  it('is the larger of both forms, the joined one taken from before', () => {
    const joined = { x: v, y: u }
    const forms = { single: form, joined: { xx: 1, xy: 0.3, yy: 3 } }
    const out = new Float64Array(40)
    const most = screenLevels({ x: u, y: v }, joined, forms, { from: 20, to: 60, lag: 32, out })
    const slow = Array.from(out, (_, n) => {
      const i = 20 + n
      const single = 2 * u[i]! ** 2 - 0.5 * u[i]! * v[i]! + v[i]! ** 2
      const k = i - 32
      return k < 0 ? single : Math.max(single, v[k]! ** 2 + 0.3 * v[k]! * u[k]! + 3 * u[k]! ** 2)
    })
    slow.forEach((value, n) => {
      near(out[n]!, value)
    })
    expect(most).toBe(Math.max(...out))
  })

  it('knows how far a column moves', () => {
    expect(rangeOf(u, 3, 90)).toBe(Math.max(...u.slice(3, 90)) - Math.min(...u.slice(3, 90)))
  })
})
