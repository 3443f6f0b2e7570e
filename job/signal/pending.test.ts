/** Oracle: a list that keeps everything. */
import fc from 'fast-check'
import { expect, it } from 'vitest'
import { Pending } from './pending.ts'

const steps = fc.array(
  fc.record({ n: fc.integer({ min: 1, max: 6000 }), gap: fc.boolean(), aux: fc.boolean(), keep: fc.nat(20_000) }),
  { minLength: 1, maxLength: 12 }
)

it('keeps what was not forgotten, whatever is pushed', () => {
  fc.assert(
    fc.property(steps, (all) => {
      const pending = new Pending()
      const x: number[] = []
      const position: number[] = []
      let oldest = 0
      for (const { n, gap, aux, keep } of all) {
        const column = Float64Array.from({ length: n + 5 }, (_, i) => x.length + i - 5)
        const segment = { first: x.length, channels: [{ x: column, y: column.map((v) => -v) }] }
        if (gap) pending.pushGap(n)
        else pending.push({ ...segment, aux: aux ? { position: column } : {} }, 5, n)
        for (let i = 0; i < n; i++) {
          position.push(gap || !aux ? Number.NaN : x.length)
          x.push(gap ? Number.NaN : x.length)
        }
        pending.forget(x.length - keep)
        oldest = Math.max(oldest, x.length - keep)
      }
      const { base, first, end } = pending
      const kept = (column: Float64Array) => Array.from(column.subarray(first - base, end - base))
      expect(end).toBe(x.length)
      expect(first).toBe(oldest)
      expect(kept(pending.x)).toEqual(x.slice(first))
      expect(kept(pending.y)).toEqual(x.slice(first).map((v) => -v))
      if (pending.position !== undefined) expect(kept(pending.position)).toEqual(position.slice(first))
      else expect(position.every(Number.isNaN)).toBe(true)
    }),
    { numRuns: 40 }
  )
})
