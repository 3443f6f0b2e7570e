/** The fast pass against the rule written out plainly, sample by sample. */
import fc from 'fast-check'
import { expect, it } from 'vitest'
import { type Look, lookOver } from './quiet.kernel.ts'

const value = fc.oneof(
  { weight: 40, arbitrary: fc.double({ min: -1, max: 1, noNaN: true }) },
  { weight: 1, arbitrary: fc.constantFrom(1, -1, 1.5, Number.NaN, Number.POSITIVE_INFINITY) }
)
const cases = fc.record({
  pairs: fc.array(fc.tuple(value, value), { minLength: 12, maxLength: 90 }),
  reach: fc.integer({ min: 2, max: 4 }),
  before: fc.integer({ min: 0, max: 5 }),
  guess: fc.double({ min: 0, max: 4, noNaN: true })
})

it('counts, measures and sees what the plain pass does', () => {
  const seen = { reached: 0, calm: 0, unread: 0 }
  fc.assert(
    fc.property(cases, ({ pairs, reach, before, guess }) => {
      const padded = [...Array.from({ length: before }, () => [9, 9] as const), ...pairs, [9, 9] as const]
      const x = Float64Array.from(padded, ([a]) => a)
      const y = Float64Array.from(padded, ([, b]) => b)
      const told = { highX: 1, lowX: -1, highY: 1, lowY: -1, guess }
      const look: Look = { ...told, below: 0, most: 0, readable: true, reached: false }
      lookOver(x, y, { from: before, to: before + pairs.length, reach }, look)
      const inner = pairs.map((_, i) => i + before).slice(reach, -reach)
      const twice = (c: Float64Array, i: number) => c[i]! + c[i]! - (c[i - reach]! + c[i + reach]!)
      const squares = inner.map((i) => twice(x, i) * twice(x, i) + twice(y, i) * twice(y, i))
      const stands = (end: number) => inner.some((i) => !(Math.abs(x[i]!) < end && Math.abs(y[i]!) < end))
      const reached = stands(1)
      const inDoubt = !reached && stands(1 - 1e-11)
      expect(look.readable).toBe(pairs.flat().every(Number.isFinite))
      if (!inDoubt) expect(look.reached).toBe(reached)
      seen[reached ? 'reached' : 'calm']++
      if (!look.readable) seen.unread++
      else expect([look.most, look.below]).toEqual([Math.max(...squares), squares.filter((s) => s < guess).length])
    }),
    { numRuns: 300 }
  )
  expect(Math.min(seen.reached, seen.calm, seen.unread)).toBeGreaterThan(20)
})
