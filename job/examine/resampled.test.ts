import { beforeAll, describe, expect, it } from 'vitest'
import { atRate, atSpeed, generate, type Sampled } from '../rehearse/index.ts'
import type { Standardization } from '../standardize/index.ts'
import type { Examination } from './index.ts'
import { DEG, examine, sceneOf, standardizationFrom, technique } from './testing/hole.ts'
import { clear, differenceOf, nearestTo } from './testing/moved.ts'

/** Every clear indication of `before` is there again, and no clear one is new. */
function expectAgain(before: Examination, after: Examination): void {
  expect(clear(before).length).toBeGreaterThan(0)
  for (const one of clear(before)) {
    const again = nearestTo(one, after.indications)!
    const off = differenceOf(again, one)
    expect(off.amplitude).toBeLessThan(0.01)
    expect(off.phase_rad).toBeLessThan(DEG)
    expect(off.angle_rad).toBeLessThan(DEG)
    expect(off.z_m).toBeLessThan(1e-4)
    expect(again.class).toBe(one.class)
  }
  for (const one of clear(after)) {
    const off = differenceOf(one, nearestTo(one, before.indications)!)
    expect(off.angle_rad).toBeLessThan(DEG)
    expect(off.z_m).toBeLessThan(1e-4)
  }
  expect(after.zones.map(({ state }) => state)).toEqual(before.zones.map(({ state }) => state))
}

const holes = ['hole-P02', 'hole-P10'] as const

// band-limited resampling by job/rehearse, itself checked against scipy.signal
describe('the same scan at another speed and sample rate gives the same indications', () => {
  let reference: Sampled
  let standardization: Standardization
  const parts = new Map<string, Sampled>()
  const before = new Map<string, Examination>()

  beforeAll(() => {
    reference = generate(sceneOf('reference-start'), 1)
    standardization = standardizationFrom(reference)
    holes.forEach((name, i) => {
      const recorded = generate(sceneOf(name), 20 + i)
      parts.set(name, recorded)
      before.set(name, examine(recorded, { standardization }).examination)
    })
  })

  it.each([0.5, 0.75, 1.3, 2, 4])('sample rate × %d in the part', (factor) => {
    for (const name of holes) {
      const { examination } = examine(atRate(parts.get(name)!, factor), { standardization })
      expectAgain(before.get(name)!, examination)
    }
  })

  it.each([0.5, 4])('sample rate × %d in reference and part', (factor) => {
    const both = standardizationFrom(atRate(reference, factor))
    const name = holes[0]
    expectAgain(before.get(name)!, examine(atRate(parts.get(name)!, factor), { standardization: both }).examination)
  })

  // the person's technique for that speed states it
  it.each([0.5, 0.8, 1.25, 2])('speed × %d in the part, as the technique states it', (factor) => {
    const rotation_rpm = technique.rotation_rpm * factor
    for (const name of holes) {
      const { examination } = examine(atSpeed(parts.get(name)!, factor), {
        standardization,
        technique: { rotation_rpm }
      })
      expectAgain(before.get(name)!, examination)
    }
  })

  it('speed × 2 in reference and part', () => {
    const faster = { technique: { rotation_rpm: technique.rotation_rpm * 2 } }
    const both = standardizationFrom(atSpeed(reference, 2), faster)
    const name = holes[1]
    const { examination } = examine(atSpeed(parts.get(name)!, 2), { standardization: both, ...faster })
    expectAgain(before.get(name)!, examination)
  })
})
