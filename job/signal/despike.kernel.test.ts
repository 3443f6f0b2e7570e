/** The fast kernel against the rule written out plainly: a sorted median, every sample looked at by itself. */
import fc from 'fast-check'
import { expect, it } from 'vitest'
import { markSpikes, type SpikeRule } from './despike.kernel.ts'

function plain(x: readonly number[], y: readonly number[], { width, ratio, contrast }: SpikeRule): readonly number[] {
  const n = x.length
  const reach = width + 1
  const far = (column: readonly number[], i: number) => column[i]! - 0.5 * (column[i - reach]! + column[i + reach]!)
  const readable = x.map((value, i) => !Number.isNaN(value) && !Number.isNaN(y[i]!))
  const measures = x.map((_, i) => {
    if (!readable[i] || i < reach || i >= n - reach) return Number.NaN
    return Math.sqrt(far(x, i) * far(x, i) + far(y, i) * far(y, i))
  })
  const sorted = measures.filter((m) => !Number.isNaN(m)).sort((a, b) => a - b)
  const ok: number[] = readable.map((can) => (can ? 1 : 0))
  if (sorted.length === 0) return ok
  const [low, high] = [sorted[Math.floor((sorted.length - 1) / 2)]!, sorted[Math.ceil((sorted.length - 1) / 2)]!]
  const level = ratio * (low === high ? low : high - (high - low) * 0.5)
  const at = (i: number) => (Number.isNaN(measures[i] ?? Number.NaN) ? 0 : measures[i]!)
  for (let i = 0; i < n && level > 0; i++) {
    const near = [...Array(2 * width + 1).keys()].flatMap((k) => [at(i - k - 1), at(i + k + 1)])
    const around = [2, 3, 4, 5].flatMap((k) => [at(i - 2 * width - k), at(i + 2 * width + k)])
    const alone = near.every((m) => m <= at(i)) && at(i) > contrast * Math.max(...around)
    if (!(at(i) > level) || !alone) continue
    for (let j = Math.max(0, i - width + 1); j <= Math.min(n - 1, i + width - 1); j++) if (ok[j] === 1) ok[j] = 2
  }
  return ok
}

it('marks what the plain rule marks, in quiet columns and in loud ones', () => {
  const value = fc.oneof(
    { weight: 30, arbitrary: fc.double({ min: -1, max: 1, noNaN: true }) },
    fc.constantFrom(40, -25)
  )
  const holed = fc.oneof({ weight: 60, arbitrary: value }, fc.constant(Number.NaN))
  const pairs = (one: fc.Arbitrary<number>) => fc.array(fc.tuple(one, one), { minLength: 4, maxLength: 120 })
  const cases = fc.record({ pairs: fc.oneof(pairs(value), pairs(holed)), width: fc.integer({ min: 1, max: 3 }) })
  let [quiet, spiked] = [0, 0]
  fc.assert(
    fc.property(cases, ({ pairs, width }) => {
      const rule = { width, ratio: 12, contrast: 4 }
      const [x, y] = [pairs.map(([a]) => a), pairs.map(([, b]) => b)]
      const ok = new Uint8Array(x.length).fill(7)
      markSpikes(Float64Array.from(x), Float64Array.from(y), ok, rule)
      expect(Array.from(ok)).toEqual(plain(x, y, rule))
      if (ok.includes(2)) spiked++
      else quiet++
    }),
    { numRuns: 600 }
  )
  // both ways through the kernel were gone
  expect(Math.min(quiet, spiked)).toBeGreaterThan(20)
})
