/** Oracle: the losses put in, counted by the test. */
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { DropLog, type Dropped } from './drops.ts'

const drop = (from: number, to: number, reason = 'spike'): Dropped => ({
  from,
  to,
  unit: 'sample',
  samples: to - from,
  reason
})

describe('DropLog', () => {
  it('joins neighbors of one reason and keeps others apart', () => {
    const log = new DropLog()
    for (const one of [drop(0, 2), drop(2, 5), drop(9, 10), drop(10, 11, 'gap'), drop(10, 12)]) log.add(one)
    expect(log.entries()).toEqual([drop(0, 5), drop(9, 12), drop(10, 11, 'gap')])
  })

  it('keeps units apart', () => {
    const log = new DropLog()
    log.add(drop(0, 1))
    log.add({ ...drop(1, 2), unit: 'revolution' })
    expect(log.entries()).toHaveLength(2)
  })

  it('is bounded, and then says too much but never too little', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1100, max: 4000 }), fc.integer({ min: 1, max: 4 }), (count, reasons) => {
        const log = new DropLog()
        const all = Array.from({ length: count }, (_, k) => drop(5 * k, 5 * k + 1 + (k % 3), `reason ${k % reasons}`))
        for (const one of all) log.add(one)
        const entries = log.entries()
        expect(entries.length).toBeLessThanOrEqual(1024 + reasons)
        expect(entries.reduce((sum, { samples }) => sum + samples, 0)).toBe(
          all.reduce((sum, { samples }) => sum + samples, 0)
        )
        const covers = (one: Dropped) =>
          entries.some((entry) => entry.reason === one.reason && entry.from <= one.from && entry.to >= one.to)
        expect(all.filter((one) => !covers(one))).toEqual([])
      }),
      { numRuns: 10 }
    )
  })

  it('gives copies', () => {
    const log = new DropLog()
    log.add(drop(0, 1))
    const [first] = log.entries()
    log.add(drop(1, 2))
    expect(first!.to).toBe(1)
  })
})
