/** Oracle: calls and flaws written down here, counted by hand. */
import { describe, expect, it } from 'vitest'
import { scoreTracks, type TrackCall, type TrackOutcome } from './index.ts'

const rules = { due: { depth_mm: 0.5, length_mm: 5 }, near_mm: 3, deepest_mm: 2 }
const flaw = (start_mm: number, length_mm: number, depth_mm: number) => ({
  start_mm,
  end_mm: start_mm + length_mm,
  length_mm,
  depth_mm
})
const call = (from_mm: number, to_mm: number, change: Partial<TrackCall> = {}): TrackCall => ({
  from_mm,
  to_mm,
  amplitude: 1,
  ...change
})
const outcome = (change: Partial<TrackOutcome>): TrackOutcome => ({
  weld: 'w',
  flaws: [],
  calls: [],
  coating: { true_: {}, told: {} },
  ...change
})

describe('the score of tracks', () => {
  it('asks for flaws that are deep and long enough, and calls false only what is at no flaw', () => {
    const flaws = [flaw(100, 10, 1), flaw(200, 10, 0.3), flaw(300, 3, 1)]
    const calls = [call(101, 109), call(205, 212), call(302, 304), call(306.5, 307), call(113.5, 115)]
    const score = scoreTracks([outcome({ flaws, calls })], rules)
    expect(score).toMatchObject({ due: 1, foundDue: 1, falseCalls: 2, missed: [] })
    expect(score.called).toEqual(['w at 306.5 mm', 'w at 113.5 mm'])
    expect(scoreTracks([outcome({ flaws })], rules)).toMatchObject({ due: 1, foundDue: 0, missed: ['w at 100.0 mm'] })
  })

  it('takes ends and depth of the largest call at a flaw', () => {
    const calls = [call(97, 104, { depth_mm: 0.7 }), call(101, 112, { amplitude: 2, depth_mm: 1.25 })]
    const score = scoreTracks([outcome({ flaws: [flaw(100, 10, 1)], calls })], rules)
    expect(score.endError_mm).toBe(2)
    expect(score.depthMae_mm).toBe(0.25)
    expect(score.depthScored).toBe(1)
  })

  it('counts bounds apart, and beyond the deepest slot no value', () => {
    const flaws = [flaw(100, 10, 2.5), flaw(200, 10, 0.6), flaw(300, 10, 0.6)]
    const calls = [
      call(100, 110, { lower_mm: 2 }),
      call(200, 210, { upper_mm: 0.5 }),
      call(300, 310, { lower_mm: 0.4 })
    ]
    const score = scoreTracks([outcome({ flaws, calls })], rules)
    expect(score).toMatchObject({ bounds: 3, boundsTrue: 2, depthScored: 0 })
    expect(score.depthMae_mm).toBeUndefined()
  })

  it('compares coatings as far as they are told', () => {
    const coating = { true_: { least: 1, median: 1.2, greatest: 2.6 }, told: { least: 1.1, median: 1.15 } }
    const score = scoreTracks([outcome({ coating })], rules)
    expect(score.coatingMae_mm).toBeCloseTo(0.075, 9)
    expect(score.coatingMedianError_mm).toBeCloseTo(0.05, 9)
    expect(score.coatingEndError_mm).toBeCloseTo(0.1, 9)
  })
})
