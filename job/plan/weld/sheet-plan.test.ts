/** Oracle: the sample sheet of a weld, with one thing changed. */
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { parse } from 'yaml'
import { cloneRoot } from '../../../house/outside.ts'
import { sheetOf } from '../index.ts'

const sample = parse(readFileSync(join(cloneRoot, 'docs/samples/weld-job.yaml'), 'utf8')) as {
  technique: Record<string, unknown>
}
const plan = {
  joint: 'fillet',
  length_mm: 400,
  thickness_mm: 10,
  cap_mm: 8,
  parent_mm: 50,
  coating: { kind: 'paint', thickness_mm: 1 },
  flaw_directions: ['along'],
  lanes: [{ id: 'toe A', over: 'toe A', run: 'along', probe_deg: 0, from_mm: -4, to_mm: -4 }],
  field_mm: { along: 5, across: 5 }
}

const refusedBy = (change: object) => {
  const read = sheetOf({ ...sample, technique: { ...sample.technique, plan: { ...plan, ...change } } })
  return 'refusals' in read ? read.refusals.map(({ code, where }) => `${code} ${where?.path}`) : []
}

describe('a job sheet with the plan of a weld', () => {
  it('is sound, and refused where the plan is', () => {
    expect(refusedBy({})).toEqual([])
    expect(refusedBy({ coating: { kind: 'metallized', thickness_mm: 0.2 } })).toEqual([
      'plan/coating-conducts technique.plan'
    ])
    expect(refusedBy({ joint: 'glued' }).length).toBe(1)
  })
})

const check = {
  ...{ probe: 'W-1', on: '2026-03-10', by: 'A', index_point_mm: 1, field_width_mm: { along: 5.5, across: 6 } },
  ...{ tilt_deg: { one: 28, other: 30 }, lift_off_share: 0.15, wear_cover: true }
}

describe('checks of the probe', () => {
  const refused = (...checks: readonly object[]) => {
    const read = sheetOf({ ...sample, probe_checks: checks })
    return 'refusals' in read ? read.refusals.map(({ code, where }) => `${code} ${where?.path}`) : []
  }

  it('of each probe the last by its day rules, in whatever order they stand', () => {
    const worn = { ...check, on: '2026-03-12', field_width_mm: { along: 4.8, across: 6 } }
    expect(refused(check)).toEqual([])
    expect(refused(worn, { ...check, on: '2026-03-13' })).toEqual([])
    expect(refused(check, worn)).toEqual(['plan/probe-not-fit probe_checks[1]'])
    expect(refused(worn, check)).toEqual(['plan/probe-not-fit probe_checks[0]'])
    expect(refused(worn, { ...check, on: '2026-03-13', probe: 'W-2' })).toEqual(['plan/probe-not-fit probe_checks[0]'])
  })

  it('every limit that is not met is refused by itself', () => {
    const bare = { ...check, wear_cover: false, lift_off_share: 0.3 }
    expect(refused(bare)).toEqual(['plan/probe-not-fit probe_checks[0]', 'plan/probe-not-fit probe_checks[0]'])
  })
})
