/** Oracle: cracks made to answer by known factors of what notches of their size answer; means taken by hand. */
import { filledShare, seenAt, sizeOf } from '@trueloop/job/evaluate'
import type { Indication } from '@trueloop/job/examine'
import type { Standardization } from '@trueloop/job/standardize'
import { describe, expect, it } from 'vitest'
import { callsOf } from './calls.ts'
import { intervalsOf } from './intervals.ts'
import { type TrialOutcome, withRatio } from './ratio.ts'
import { figuresOf, type ScoredJob, scoreOf } from './score.ts'
import type { TrialSetup } from './setup.ts'
import { sizeLines } from './text.ts'

const width = 1.4
const noise = { xx: 0.0016, xy: 0, yy: 0.0004, points: 999 }

/** Answers of a flaw along the axis, without noise. */
function rowsOf(depth: number, length: number, factor = 1) {
  const size = factor * 3 * filledShare(length, width) * (1 - Math.exp(-depth / 0.6))
  const z = Array.from({ length: 25 }, (_, k) => 5 + 0.25 * (k - 12))
  const y = z.map((at) => size * seenAt(at - 5, { length, width }))
  return { z_m: z.map((at) => at / 1000), x: y.map((one) => one * (0.1 + 0.2 * depth)), y }
}

const certified = [0.25, 0.5, 1, 1.5].map((depth_mm) => ({ place: 'mid-bore', depth_mm, length_mm: 2 * depth_mm }))
const notches = certified.map((one) => {
  const rows = rowsOf(one.depth_mm, one.length_mm)
  return { ...one, id: `${one.depth_mm}`, amplitude: rows.y[12]!, z_m: 0.005, zOff_m: 0, rows }
})
// each notch stands alone: nothing is to be cleared from it
const alone = {
  band: { low: 0, high: 1, unit: 'cycles per mm' },
  form: { half: 1, x: [0, 0, 0], y: [1, 0, -1] },
  named: '0.5'
}
const standardization = { ...alone, notches, sizeNoise: noise } as unknown as Standardization

const setup = {
  ...{ metal: 'm', frequency_khz: 300, equipment: { arrangement: 'differential' } },
  technique: { confirmed_by: 'nobody real' },
  reference_standard: { notches: [...certified, { place: 'entry corner', depth_mm: 0.5, length_mm: 0.5 }] }
} as unknown as TrialSetup

function outcome(hole: string, depth_mm: number, factor: number, keeps = true): TrialOutcome {
  const rows = rowsOf(depth_mm, 1.8, factor)
  const measured = { amplitude: rows.y[12]!, place: 'mid-bore' as const, rows, extent_m: 0.002 }
  const indication = {
    ...{ class: 'relevant', angle_rad: 1, z_m: 0.005, size: sizeOf(measured, notches as never, [], { noise }) },
    ...(keeps ? { measured } : {})
  } as unknown as Indication
  const flaw = { kind: 'crack' as const, place: 'mid-bore' as const, depth_mm, length_mm: 1.8 }
  return {
    hole,
    truth: { flaws: [{ ...flaw, angle_deg: 57, z0_mm: 4.1, z1_mm: 5.9 }], nuisances: [], fault: 'none' },
    calls: callsOf({ indications: [indication] } as never),
    notExamined: [],
    standardization
  }
}

const factors = [0.66, 0.7, 0.74, 0.78, 0.82, 1.2]
const depths = [0.5, 0.6, 0.7, 0.8, 0.9, 1]
const outcomes = factors.map((factor, k) => outcome(`h${k}`, depths[k]!, factor))
const job: ScoredJob = { setup, outcomes, voided: [] }

describe('the ratio of a trial job', () => {
  it('of a hole is the mean over the other holes, and never its own', () => {
    const used = withRatio(job).map(({ calls }) => calls[0]!.statement.ratio)
    for (const [k, ratio] of used.entries()) {
      const others = factors.filter((_, i) => i !== k)
      const mean = others.reduce((sum, one) => sum + one, 0) / others.length
      const spread = Math.sqrt(others.reduce((sum, one) => sum + (one - mean) ** 2, 0) / 4)
      expect(Math.abs(ratio!.ratio - mean)).toBeLessThan(0.02)
      expect(Math.abs(ratio!.spread - spread)).toBeLessThan(0.02)
      expect(ratio).toMatchObject({ cracks: 5, approved: expect.stringContaining('nobody real') })
    }
  })

  it('needs four cracks in other holes, and calls that keep what they were sized from', () => {
    const few = withRatio({ ...job, outcomes: outcomes.slice(0, 4) })
    expect(few).toEqual(outcomes.slice(0, 4))
    const bare = depths.map((depth, k) => outcome(`h${k}`, depth, 0.75, false))
    expect(withRatio({ ...job, outcomes: bare })).toEqual(bare)
  })

  it('is scored beside the notch-equivalent sizes', () => {
    const alike = { ...job, outcomes: depths.map((depth, k) => outcome(`h${k}`, depth, 0.75)) }
    const score = scoreOf([alike])
    expect(score.sizes).toMatchObject({ depthScored: 6, lengthScored: 6, depthIntervals: 6 })
    expect(score.sizes.depthMae_mm).toBeGreaterThan(0.1)
    expect(score.withRatio).toMatchObject({
      depthScored: 6,
      depthIntervals: 6,
      depthIntervalsTrue: 6,
      lengthIntervalsTrue: 6
    })
    expect(score.withRatio.depthMae_mm).toBeLessThan(0.05)
    expect(score.depthMae_mm).toBe(score.sizes.depthMae_mm)
    expect(figuresOf(score).holes.withRatio).toEqual(score.withRatio)
    const lines = sizeLines(score).join('\n')
    expect(lines).toContain(`notch-equivalent: mean absolute error ${score.sizes.depthMae_mm!.toFixed(3)} mm over 6`)
    expect(lines).toContain(`one hole out: mean absolute error ${score.withRatio.depthMae_mm!.toFixed(3)} mm over 6`)
    expect(lines).toContain('6 of 6 true')
  })

  it('an interval without the truth in it is counted, an end not stated is open', () => {
    const [one] = outcomes
    const said = (statement: object): TrialOutcome => ({
      ...one!,
      calls: [{ ...one!.calls[0]!, statement: { depth: '', extent: '', withheld: [], ...statement } }]
    })
    const count = (statement: object) => intervalsOf([said(statement)])
    expect(count({ depth_mm: 0.4, lower_mm: 0.3, upper_mm: 0.45 })).toMatchObject({
      depthIntervals: 1,
      depthIntervalsTrue: 0
    })
    expect(count({ depth_mm: 0.4, lower_mm: 0.3 })).toMatchObject({ depthIntervals: 1, depthIntervalsTrue: 1 })
    expect(count({ lower_mm: 0.3 })).toMatchObject({ depthIntervals: 0, lengthBounds: 0 })
    expect(count({ length_upper_mm: 1.7 })).toMatchObject({ lengthBounds: 1, lengthBoundsTrue: 0 })
    const value = { length_mm: 1.7, length_lower_mm: 1.5, length_upper_mm: 1.9 }
    expect(count(value)).toMatchObject({ lengthIntervals: 1, lengthIntervalsTrue: 1, lengthBounds: 0 })
  })
})
