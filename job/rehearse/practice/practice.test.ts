/** Oracle: the rules of a job sheet (sheetOf), the layers of the holes, and the same seed again. */
import { isRefusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import { sheetOf } from '../../plan/index.ts'
import { loopSheet } from '../../plan/testing/plannable.ts'
import { memoryShelf } from '../field/index.ts'
import { windingSheet } from '../testing/windings.ts'
import { practiceOf } from './practice.ts'

const shelf = memoryShelf()

function practiceWith(change: (sheet: ReturnType<typeof windingSheet>) => void, seed = 1) {
  const value = windingSheet()
  change(value)
  const read = sheetOf(value)
  if ('refusals' in read) throw new Error(JSON.stringify(read.refusals))
  return practiceOf(read.sheet, seed, shelf)
}

const codeOf = (change: Parameters<typeof practiceWith>[0]) => {
  const found = practiceWith(change)
  return isRefusal(found) ? found.code : 'no refusal'
}

describe('a practice', () => {
  const practice = practiceWith(() => {})
  if (isRefusal(practice)) throw new Error(practice.found)

  it('is a sound job sheet, marked as a demonstration, and nothing of the real job is in it', () => {
    const read = sheetOf(JSON.parse(JSON.stringify(practice.sheet)))
    expect(read).toHaveProperty('sheet')
    expect(practice.sheet.job.demonstration).toBe(true)
    expect(practice.sheet.holes.every((hole) => hole.preparation === undefined)).toBe(true)
    expect(JSON.stringify(practice.sheet.job)).not.toContain('spar')
    expect(practice.sheet.equipment.probe).toBe('simulated')
  })

  it('begins with the reference standard, has every hole once, and ends with a recheck', () => {
    const files = practice.sheet.recordings.map(({ of }) => of)
    expect(files).toEqual(['reference', 'hole', 'hole', 'hole', 'hole', 'hole', 'recheck', 'hole', 'recheck'])
    expect(practice.recordings.map(({ file }) => file)).toEqual(practice.sheet.recordings.map(({ file }) => file))
  })

  it('has cracks within one layer, around the size sought', () => {
    const flaws = practice.recordings.flatMap(({ file, scene }) => (file.startsWith('hole') ? scene.flaws : []))
    expect(flaws.length).toBeGreaterThan(0)
    for (const { z0_m, z1_m, depth_m, length_m, kind } of flaws) {
      expect(kind).toBe('crack')
      expect(z1_m <= 4.5e-3 + 1e-12 || z0_m >= 4.5e-3 - 1e-12).toBe(true)
      expect(z1_m - z0_m).toBeCloseTo(length_m, 12)
      expect(depth_m).toBeGreaterThanOrEqual(0.19e-3)
      expect(depth_m).toBeLessThanOrEqual(1.05e-3)
    }
  })

  it('is the same for a seed, and another for another', () => {
    const holes = (one: ReturnType<typeof practiceWith>) =>
      isRefusal(one) ? one.code : one.recordings.map(({ scene }) => scene.flaws)
    expect(holes(practiceWith(() => {}))).toEqual(holes(practice))
    expect(holes(practiceWith(() => {}, 2))).not.toEqual(holes(practice))
  })

  it('takes the lobes from the field, and says what is modeled', () => {
    const lobes = practice.sheet.technique
    expect('lobe_spacing_mm' in lobes && lobes.lobe_spacing_mm).not.toBe(1.3)
    expect(practice.modeled.join()).toMatch(/on no measurement/)
  })
})

describe('a practice is refused', () => {
  it('without both windings, for several metals, for a loop, and where no crack fits', () => {
    expect(codeOf((sheet) => void delete sheet.technique.probe.pick_ups)).toBe('rehearse/no-pick-ups')
    expect(
      codeOf((sheet) => {
        sheet.holes[0].layers = ['aluminum 7075-T6', 'titanium Ti-6Al-4V']
      })
    ).toBe('rehearse/several-metals')
    expect(
      codeOf((sheet) => {
        sheet.technique.target_flaw_mm = { depth: 0.5, length: 12 }
      })
    ).toBe('rehearse/no-room')
    const read = sheetOf(loopSheet())
    if ('refusals' in read) throw new Error(JSON.stringify(read.refusals))
    const found = practiceOf(read.sheet, 1, shelf)
    expect(isRefusal(found) && found.code).toBe('rehearse/not-a-hole')
  })
})
