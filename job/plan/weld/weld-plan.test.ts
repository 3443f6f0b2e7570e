/** Oracle: plans and probes written down here, strips and limits worked out by hand; limits from the field procedure. */
import { svg } from '@trueloop/ground/picture'
import { describe, expect, it } from 'vitest'
import {
  checkWeldPlan,
  fitnessLimits,
  fitnessTrend,
  gapsIn,
  type Lane,
  laneDrawing,
  lanesNotExamined,
  type ProbeFitness,
  stripsOf,
  unfit,
  type WeldPlan,
  weldPlanSchema,
  weldSpeedLimit
} from '../index.ts'

const lane = (id: string, over: Lane['over'], change: Partial<Lane> = {}): Lane => ({
  ...{ id, over, run: 'along' as const, probe_deg: 0, from_mm: 0, to_mm: 0 },
  ...change
})

/** Cap 16 mm wide, 50 mm of parent metal, field 5 mm. */
const whole: WeldPlan = {
  joint: 'butt',
  length_mm: 600,
  thickness_mm: 12,
  cap_mm: 16,
  parent_mm: 50,
  coating: { kind: 'paint', thickness_mm: 1.5 },
  flaw_directions: ['any'],
  lanes: [
    lane('PA', 'parent A', { from_mm: -58, to_mm: -8, step_mm: 2.5 }),
    lane('PAx', 'parent A', { from_mm: -58, to_mm: -8, step_mm: 2.5, run: 'across', probe_deg: 90 }),
    lane('TA', 'toe A', { from_mm: -8, to_mm: -8 }),
    lane('TAx', 'toe A', { from_mm: -12, to_mm: -4, run: 'across', step_mm: 2.5 }),
    lane('C', 'cap', { from_mm: -8, to_mm: 8, step_mm: 2.5 }),
    lane('Cx', 'cap', { from_mm: -8, to_mm: 8, step_mm: 2.5, run: 'across' }),
    lane('TB', 'toe B', { from_mm: 8, to_mm: 8 }),
    lane('TBx', 'toe B', { from_mm: 4, to_mm: 12, run: 'across', step_mm: 2.5 }),
    lane('PB', 'parent B', { from_mm: 8, to_mm: 58, step_mm: 2.5 }),
    lane('PBx', 'parent B', { from_mm: 8, to_mm: 58, step_mm: 2.5, run: 'across' })
  ],
  field_mm: { along: 5, across: 5 }
}

const codesOf = (plan: WeldPlan) => checkWeldPlan(plan).refusals.map(({ code }) => code)
const changed = (id: string, change: Partial<Lane>): WeldPlan => ({
  ...whole,
  lanes: whole.lanes.map((one) => (one.id === id ? { ...one, ...change } : one))
})

describe('the plan of a weld', () => {
  it('whose lanes pass everything both ways leaves out only what answers least', () => {
    expect(weldPlanSchema.parse(whole)).toEqual(whole)
    const { refusals, leftOut } = checkWeldPlan(whole)
    expect(refusals).toEqual([])
    expect(leftOut).toEqual(stripsOf(whole).map(({ name }) => `${name}: flaws near 45° to the runs answer least`))
    expect(stripsOf(whole).map(({ from_mm, to_mm }) => [from_mm, to_mm])).toEqual([
      [-58, -8],
      [-8, -8],
      [-8, 8],
      [8, 8],
      [8, 58]
    ])
  })

  it('names directions that no run is for, and strips that no lane passes', () => {
    const along = { ...whole, lanes: whole.lanes.filter(({ run }) => run === 'along') }
    expect(checkWeldPlan(along).leftOut).toContain('cap: flaws across the weld are not sought, no run goes across it')
    expect(checkWeldPlan({ ...along, flaw_directions: ['along'] }).leftOut).toEqual([])
    const bare = { ...whole, lanes: whole.lanes.filter(({ over }) => over !== 'toe B') }
    expect(checkWeldPlan(bare).leftOut).toContain('toe B: no lane')
    const short = changed('PB', { to_mm: 40 })
    expect(gapsIn(stripsOf(short)[4]!, short, 'along')).toEqual([[42.5, 58]])
    expect(checkWeldPlan(short).leftOut.some((one) => one.includes('42.5 to 58.0 mm'))).toBe(true)
    const beside = changed('TA', { from_mm: -4, to_mm: -4 })
    expect(gapsIn(stripsOf(beside)[1]!, beside, 'along').length).toBe(1)
  })

  it('refuses plan/lanes-too-far-apart beyond half of the field', () => {
    expect(codesOf(changed('C', { step_mm: 3 }))).toEqual(['plan/lanes-too-far-apart'])
    const { step_mm: _, ...stepless } = whole.lanes[4]!
    const without = { ...whole, lanes: whole.lanes.map((one) => (one.id === 'C' ? stepless : one)) }
    expect(codesOf(without)).toEqual(['plan/lanes-too-far-apart'])
  })

  it('refuses plan/coating-conducts without a block that carries it, and plan/coating-too-thick', () => {
    const under = (coating: WeldPlan['coating']) => codesOf({ ...whole, coating })
    expect(under({ kind: 'galvanized', thickness_mm: 0.1 })).toEqual(['plan/coating-conducts'])
    expect(under({ kind: 'metallized', thickness_mm: 0.3, on_reference: true })).toEqual([])
    expect(under({ kind: 'epoxy', thickness_mm: 2 })).toEqual([])
    expect(under({ kind: 'epoxy', thickness_mm: 2.4 })).toEqual(['plan/coating-too-thick'])
  })

  it('tells lanes that were not run, and places out of reach', () => {
    const reach = [{ from_mm: 200, to_mm: 240, why: 'a bracket' }]
    const plan = changed('C', { out_of_reach: reach })
    const run = plan.lanes.map(({ id }) => id).filter((id) => id !== 'TB')
    expect(lanesNotExamined(plan, run)).toEqual([
      'lane C over cap, 200 to 240 mm: out of reach, a bracket',
      'lane TB over toe B: not run'
    ])
  })

  it('is drawn: a lane its name and the direction of its probe', () => {
    const text = svg(laneDrawing(changed('C', { out_of_reach: [{ from_mm: 10, to_mm: 40, why: 'a bracket' }] })))
    for (const { id, probe_deg } of whole.lanes) expect(text).toContain(`${id}, probe at ${probe_deg}°`)
    expect(text).toContain('parent A')
  })
})

describe('the speed along a track', () => {
  it('is bound by ten samples a field, or by the filter before the recording', () => {
    expect(weldSpeedLimit({ rate_Hz: 1000, field_mm: 5 })).toEqual({ most_mm_s: 500, by: 'sampling' })
    const { most_mm_s, by } = weldSpeedLimit({ rate_Hz: 1000, field_mm: 5, lowPass_Hz: 20 })
    expect(by).toBe('filter')
    // a bell of 5 mm at v mm/s has its 3 dB corner at 0.312 v/5 Hz: three times that is 20 Hz
    expect((3 * 0.312 * most_mm_s) / 5).toBeCloseTo(20, 9)
  })
})

describe('the fitness of a probe', () => {
  const fit: ProbeFitness = {
    probe: 'W-1',
    on: '2026-03-14',
    by: 'A. Sample',
    index_point_mm: 2,
    field_width_mm: { along: 5, across: 5.4 },
    tilt_deg: { one: 25, other: 30 },
    lift_off_share: 0.2,
    wear_cover: true
  }

  it('at its limits is met', () => {
    expect(unfit(fit)).toEqual([])
    expect(fitnessLimits(fit).length).toBe(6)
  })

  it('plan/probe-not-fit, for each limit by itself', () => {
    const wrong: readonly Partial<ProbeFitness>[] = [
      { index_point_mm: 2.1 },
      { field_width_mm: { along: 5, across: 4.9 } },
      { tilt_deg: { one: 24, other: 24 } },
      { tilt_deg: { one: 26, other: 32 } },
      { lift_off_share: 0.21 },
      { wear_cover: false }
    ]
    for (const change of wrong)
      expect(unfit({ ...fit, ...change }).map(({ code }) => code)).toEqual(['plan/probe-not-fit'])
  })

  it('has a trend over its checks', () => {
    const later = { ...fit, on: '2026-06-01', lift_off_share: 0.26, tilt_deg: { one: 22, other: 24 } }
    const trend = fitnessTrend([later, fit])
    expect(trend.map(({ limit, change }) => [limit, Math.round(100 * change) / 100])).toEqual([
      ['index point', 0],
      ['field width', 0],
      ['tilt', -3],
      ['lift-off', 0.06]
    ])
    expect(trend[3]!.rows.map(({ on }) => on)).toEqual(['2026-03-14', '2026-06-01'])
  })
})
