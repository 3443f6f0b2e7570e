/** Oracle: patches on a weld, laid out here. */
import { describe, expect, it } from 'vitest'
import { joinRuns, patchOf, type RunFinding } from './index.ts'

const finding = (run: string, id: string, change: Partial<RunFinding> = {}): RunFinding => ({
  ...{ run, id, amplitude: 1, along_mm: [100, 112], across_mm: [5.5, 10.5] },
  ...change
})
const idsOf = (findings: readonly RunFinding[], near = 1) =>
  joinRuns(findings, near).map(({ governs, others }) => [governs.id, ...others.map(({ id }) => id)])

describe('findings of several runs', () => {
  it('of one place are one, and the larger amplitude governs', () => {
    const along = finding('toe', 'toe/1', { amplitude: 0.8 })
    const across = finding('x12', 'x12/1', { amplitude: 1.7, along_mm: [103, 108], across_mm: [7, 9] })
    const [one, ...more] = joinRuns([along, across], 1)
    expect(more).toEqual([])
    expect(one).toMatchObject({ governs: { id: 'x12/1' }, along_mm: [100, 112], across_mm: [5.5, 10.5] })
    expect(one!.others).toEqual([along])
  })

  it('of two places stay two, and so do two of one run', () => {
    const apart = finding('x40', 'x40/1', { along_mm: [400, 405] })
    const beside = finding('toe', 'toe/2', { along_mm: [113, 118] })
    expect(idsOf([finding('toe', 'toe/1'), apart, beside])).toEqual([['toe/1'], ['x40/1'], ['toe/2']])
  })

  it('that a third holds together are one, in whatever order they come', () => {
    const a = finding('toe', 'a', { along_mm: [100, 110] })
    const b = finding('toe', 'b', { along_mm: [114, 120] })
    const bridge = finding('cap', 'c', { amplitude: 2, along_mm: [104, 118], across_mm: [8, 13] })
    for (const order of [
      [a, b, bridge],
      [bridge, b, a],
      [a, bridge, b]
    ])
      expect(idsOf(order).map((ids) => [ids[0], ...ids.slice(1).sort()])).toEqual([['c', 'a', 'b']])
  })

  it('lie where their run lies, as wide as its field', () => {
    expect(patchOf([100, 112], { run: 'along', at_mm: 8, field_mm: 5 })).toEqual({
      along_mm: [100, 112],
      across_mm: [5.5, 10.5]
    })
    expect(patchOf([-3, 9], { run: 'across', at_mm: 240, field_mm: 4 })).toEqual({
      along_mm: [238, 242],
      across_mm: [-3, 9]
    })
  })
})
