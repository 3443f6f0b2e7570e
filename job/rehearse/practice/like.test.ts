/**
 * Oracle: the reference scan of a trial that was made by a program that is not part of this project, read by the
 * standardization of the product: the alarm notch of the model has to come out as that of the scan. Its windings are ours.
 */
import { readFileSync } from 'node:fs'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { expect, it } from 'vitest'
import { needsOutside } from '../../../house/outside.ts'
import { openHole } from '../../examine/index.ts'
import type { HoleSheet } from '../../plan/index.ts'
import { readWhole } from '../../scan/testing/read.ts'
import { jobOf } from '../../standardize/testing/trial.ts'
import { memoryShelf } from '../field/index.ts'
import { windingSheet } from '../testing/windings.ts'
import { likeOwn, recordedFrom } from './like.ts'
import { ownReferenceOf } from './own.ts'
import { probeFor } from './probe.ts'
import { standardScene } from './scenes.ts'

function sound<T>(value: Result<T>): T {
  if (isRefusal(value)) throw new Error(`${value.code}: ${value.found}`)
  return value as T
}

/** Lobes of the windings of the test, and so how much larger they have to be. */
const LOBES_mm = 0.656

function sheetOf(folder: string): HoleSheet {
  const { technique, standard, equipment } = jobOf(folder)
  const sheet = windingSheet()
  const larger = technique.lobe_spacing_mm / LOBES_mm
  for (const winding of [sheet.technique.probe.winding, sheet.technique.probe.pick_ups]) {
    winding.inner_radius_mm *= larger
    winding.outer_radius_mm *= larger
  }
  const { probe } = sheet.technique
  const recordings = [{ of: 'reference', file: 'reference-start.wav' }]
  return { ...sheet, technique: { ...technique, probe }, reference_standard: standard, equipment, recordings }
}

needsOutside('trial/al-quarter', 'a model beside a recording of other origin', (folder) => {
  it('shows its alarm notch as 1, where the other has its own, and in a wall as noisy', () => {
    const sheet = sheetOf(folder)
    const file = 'reference-start.wav'
    const { rate_Hz, x, y, aux } = readWhole(readFileSync(`${folder}/${file}`), file, { x: 0, y: 1, index: 2 })
    const own = sound(ownReferenceOf(sheet, { rate_Hz, x, y, index: aux.index! }))
    const shelf = memoryShelf()
    const staging = { sheet, probe: sound(probeFor(sheet, shelf)), rate_Hz }
    const { technique, reference_standard, equipment } = sheet
    const named = reference_standard.notches.filter(({ id }) => id === technique.alarm.notch)
    const alone = { ...staging, sheet: { ...sheet, reference_standard: { ...reference_standard, notches: named } } }
    const scene = sound(likeOwn(staging, own, shelf)).dress(standardScene(alone))
    const made = recordedFrom({ scene, seed: 3 }, own, shelf)
    const { standardization } = own
    const { hole_diameter_mm: diameter_mm, thickness_mm: grip_mm } = reference_standard
    const run = sound(
      openHole({
        ...{ technique, equipment, standardization, rate_Hz, indexed: true },
        ...{ standardizationName: 'a'.repeat(64), recording: 'b'.repeat(64) },
        hole: { id: 'R', diameter_mm, grip_mm, interfaces_mm: [] }
      })
    )
    sound(run.take({ first: 0, channels: [{ x: made.x, y: made.y }], aux: { index: made.index! } }))
    const { zones, refusals, indications } = sound(run.close()).examination
    expect(refusals).toEqual([])
    expect(zones.every(({ state }) => state === 'examined')).toBe(true)
    const [notch] = [...indications].sort((a, b) => b.matched - a.matched)
    const own1 = standardization.notches.find(({ id }) => id === technique.alarm.notch)!
    expect(Math.abs(notch!.matched - 1)).toBeLessThan(0.05)
    expect(Math.abs(Math.sin(notch!.phase_rad - own1.phase_rad))).toBeLessThan(0.15)
    expect(notch!.signalToNoise * standardization.noise.matched).toBeGreaterThan(0.7)
    expect(notch!.signalToNoise * standardization.noise.matched).toBeLessThan(1.3)
  })
})
