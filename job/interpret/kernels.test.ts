/** Oracles: numpy.correlate and scipy.ndimage (reference/kernels.py), and plain slow twins. */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { UNIT } from '../signal/index.ts'
import { matchedOutput } from '../standardize/index.ts'
import reference from './reference/kernels.json' with { type: 'json' }
import { selfAnswer } from './sidelobes.ts'
import { swing } from './swing.kernel.ts'
import { differences } from './texture.kernel.ts'

const { half } = reference
const y = Float64Array.from({ length: 600 }, (_, t) => ((5 * t * t + 11 * t) % 97) / 97 - 0.5)
const weights = Float64Array.from(
  { length: 2 * half + 1 },
  (_, i) => Math.sin(0.3 * (i - half)) / (1 + 0.01 * (i - half) ** 2)
)
const inner = { from: half, to: 600 - half }

const columns = fc.array(fc.integer({ min: -5, max: 5 }), { minLength: 40, maxLength: 80 })

describe('matchedOutput', () => {
  it('is the correlation of NumPy', () => {
    const out = matchedOutput(y, weights, inner)
    expect(out.length).toBe(558)
    for (const [k, at] of reference.keep.entries())
      expect(Math.abs(out[at]! - reference.matched[k]!)).toBeLessThan(reference.tolerance)
  })

  it('is its slow twin', () => {
    fc.assert(
      fc.property(columns, fc.integer({ min: 0, max: 6 }), (values, reach) => {
        const some = Float64Array.from({ length: 2 * reach + 1 }, (_, k) => k * k - 3 * k + 1)
        const out = matchedOutput(Float64Array.from(values), some, { from: 10, to: 30 })
        const slow = Array.from(out, (_, n) => some.reduce((sum, w, k) => sum + w * values[10 + n + k - reach]!, 0))
        expect(Array.from(out)).toEqual(slow)
      })
    )
  })
})

describe('swing', () => {
  it.each([1, 7, 21])('within ± %i points is that of SciPy', (reach) => {
    const expected = reference.swings[String(reach) as keyof typeof reference.swings]
    expect(Array.from(swing(y, reach, { from: 21, to: 579 }))).toEqual(expected)
  })

  it('is its slow twin, equal values included', () => {
    fc.assert(
      fc.property(columns, fc.integer({ min: 0, max: 9 }), (values, reach) => {
        const out = swing(Float64Array.from(values), reach, { from: 10, to: 30 })
        const slow = Array.from(out, (_, n) => {
          const near = values.slice(10 + n - reach, 10 + n + reach + 1)
          return Math.max(...near) - Math.min(...near)
        })
        expect(Array.from(out)).toEqual(slow)
      })
    )
  })
})

describe('selfAnswer', () => {
  const pulse = Float64Array.from({ length: UNIT }, (_, t) => {
    const u = (t - 256) / 16
    return -u * Math.exp(-0.5 * u * u)
  })
  it('is the correlation of NumPy all round a unit, 1 in the middle', () => {
    const answer = selfAnswer(weights, pulse)
    expect(answer[256]).toBe(1)
    for (const [k, at] of reference.points.entries())
      expect(Math.abs(answer[at]! - reference.answer[k]!)).toBeLessThan(1e-12)
  })
})

describe('differences', () => {
  it('are their slow twins: the size read along a direction, and how far its neighbors are from it', () => {
    const x = y.map((value, t) => value + 0.1 * Math.cos(t))
    const along = { x: 0.6, y: -0.8 }
    const read = (i: number) => along.x * x[i]! + along.y * y[i]!
    const columns = () => new Float64Array(150)
    const found = { size: columns(), next: columns(), further: columns() }
    differences({ x, y }, { along, from: 7, every: 3, perTurn: 32 }, found)
    const elements = Array.from({ length: 150 }, (_, k) => 7 + 3 * k)
    expect(Array.from(found.size)).toEqual(elements.map((i) => Math.abs(read(i))))
    expect(Array.from(found.next)).toEqual(elements.map((i) => Math.abs(read(i + 1) - read(i))))
    expect(Array.from(found.further)).toEqual(elements.map((i) => Math.abs(read(i + 32) - read(i))))
  })
})
