import { beforeAll, describe, expect, it } from 'vitest'
import { generate, type HoleScene, type TrueFlaw } from '../rehearse/index.ts'
import type { Examination, Indication } from './index.ts'
import { DEG, examine, sceneOf } from './testing/hole.ts'
import { differenceOf } from './testing/moved.ts'

const withMarks = (marks: Partial<HoleScene['recorder']['index']['marks']>): HoleScene => {
  const scene = sceneOf('hole-P04')
  const { index } = scene.recorder
  return { ...scene, recorder: { ...scene.recorder, index: { ...index, marks: { ...index.marks, ...marks } } } }
}

const examined = (scene: HoleScene): Examination => examine(generate(scene, 4)).examination

const all = ({ zones }: Examination): boolean => zones.every(({ state }) => state === 'examined')

describe('what is wrong with marks', () => {
  let flaw: TrueFlaw
  let before: Indication

  beforeAll(() => {
    const recorded = generate(withMarks({}), 4)
    flaw = recorded.truth.flaws[0]!
    before = examine(recorded).examination.indications[0]!
  })

  const expectSame = ({ indications }: Examination, angle = DEG) => {
    expect(indications.length).toBe(1)
    const off = differenceOf(indications[0]!, before)
    expect(off.amplitude).toBeLessThan(0.01)
    expect(off.phase_rad).toBeLessThan(DEG)
    expect(off.angle_rad).toBeLessThan(angle)
    expect(off.z_m).toBeLessThan(1e-4)
  }

  it('missing ones are filled in, and said', () => {
    const examination = examined(withMarks({ lost: [20, 31, 32, 40, 41, 42] }))
    expectSame(examination)
    expect(all(examination)).toBe(true)
    expect(examination.notes).toEqual(['6 missing index marks filled in'])
  })

  it('double and bouncing ones are left out, and said', () => {
    const examination = examined(withMarks({ doubled: [15, 33], bounced: [14, 30, 31] }))
    expectSame(examination)
    expect(all(examination)).toBe(true)
    expect(examination.notes).toEqual(['3 bouncing index edges left out', '2 double index marks left out'])
  })

  it('too many missing ones leave their place not examined', () => {
    const examination = examined(withMarks({ lost: [27, 28, 29, 30, 31] }))
    expect(all(examination)).toBe(false)
    expect(examination.notes.some((note) => note.includes('turns without index marks'))).toBe(true)
    const there = examination.zones.find(({ zone }) => zone === 'layer 2 mid-bore')!
    expect(there.state).toBe('not examined')
    expect(there.why.join()).toContain('index marks lost')
  })

  it.each([
    ['an index that never answers', true],
    ['no index channel', false]
  ])('%s: turns from the signal, same flaw, angles of an unknown datum', (_, channel) => {
    const { index, ...bare } = generate(withMarks({ none: true }), 4)
    const { examination } = examine(channel ? { ...bare, index } : bare)
    expect(examination.position.angle).toBe('unknown')
    expect(examination.notes.join()).toContain('angles are relative to an unknown datum')
    expect(all(examination)).toBe(true)
    const found = examination.indications.filter(({ class: is }) => is === 'relevant')
    expect(found.length).toBe(1)
    const off = differenceOf(found[0]!, before)
    // the turns of the signal are as long as those of the index: same signal on the ruler, other zero
    expect(off.amplitude).toBeLessThan(0.03)
    expect(off.phase_rad).toBeLessThan(2 * DEG)
    expect(Math.abs((found[0]!.z_m as number) * 1e3 - 0.5 * (flaw.z0_mm + flaw.z1_mm))).toBeLessThan(0.15)
  })

  it('with an index the angle counts from its edge', () => {
    const examination = examined(withMarks({}))
    expect(examination.position.angle).toBe('relative angle')
    expect(Math.abs((examination.indications[0]!.angle_rad as number) / DEG - flaw.angle_deg)).toBeLessThan(1)
  })
})
