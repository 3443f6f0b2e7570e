import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { isRefusal } from '@trueloop/ground/refusal'
import type { HoleSheet, RegisterRow } from '@trueloop/job/plan'
import { choiceOf, openIndications, replay } from '@trueloop/job/record'
import { demoRecordings, generate, type HoleScene, writeWave } from '@trueloop/job/rehearse'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { type Archive, openArchive } from '../archive/index.ts'
import { closePlaces, cutHole, decide } from '../decide/index.ts'
import { checkJob, openJob, reportHtml, runChain } from './index.ts'
import { demoJob } from './testing/demo-job.ts'
import { approved, dayOf, equipmentRows, got, register, signedSheet, signerOf } from './testing/shop.ts'

/**
 * Oracle: the path of a reamed hole as the trade has it, with recordings whose truth is known: a hole of 4.8 mm with a
 * crack, then the same hole at 5.2 mm with nothing in it, on a reference standard of that diameter.
 */

const clock = dayOf('2026-03-02T12:00:00Z')
const three = signerOf('C. Level', 'III')
const two = signerOf('B. Two', 'II')

let folder = ''
let archive: Archive
beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'trueloop-reaming-'))
  archive = got(await openArchive(join(folder, 'archive')))
})
afterEach(async () => {
  await archive.close()
  rmSync(folder, { recursive: true })
})

const NEW_mm = 5.2
const reaming: NonNullable<HoleSheet['technique']['reaming']> = {
  permitted_sizes_mm: [{ diameter_mm: NEW_mm, over_mm: 0.02, under_mm: 0 }, { diameter_mm: 6.35 }],
  ...{ max_diameter_mm: 7, min_edge_margin: 1.5, depth_allowance_mm: 0.1, eccentricity_mm: 0.03 },
  diameter_class_mm: 0.04
}

const measuredAt = (measured_diameter_mm: number) => {
  const done = { by: 'B. Two', on: '2026-03-02' }
  return {
    ...{ cleaned: done, deburred: 'not needed' as const, visual: 'nothing', measured_diameter_mm, out_of_round_mm: 0 },
    ...{ gauge: 'G-7', gauge_uncertainty_mm: 0.005, measured: done }
  }
}

const gauge: RegisterRow = {
  ...{ register: 'gauge', version: 1, serial: 'G-7', measures: 'diameter of a hole', uncertainty_mm: 0.005 },
  certificate: { number: 'K-1', issued: '2025-04-01', expires: '2026-12-31' }
}

function before(): HoleSheet {
  const sheet = signedSheet(demoJob(folder, ['reference-start.wav', 'hole-P02.wav', 'recheck-1.wav']))
  const holes = sheet.holes.filter(({ id }) => id === 'P02')
  return {
    ...sheet,
    technique: {
      ...sheet.technique,
      reaming,
      oversize: { max_loss_dB: 6 },
      probe: { mean_coil_radius_mm: 0.5, fit: 'fixed diameter' }
    },
    holes: holes.map((hole) => ({ ...hole, edge_distance_mm: 14, preparation: measuredAt(4.8) }))
  }
}

/** A recording of the demonstration as it is in a hole of the new size. */
function write(name: string, file: string, seed: number): void {
  const scene = [...demoRecordings(1)].find((one) => one.file === file)!.scene
  const { rate_Hz, x, y, index } = generate(atNewSize(scene), seed)
  writeFileSync(join(folder, name), Buffer.concat([...writeWave(rate_Hz, [x, y, index], 'float32')]))
}

const atNewSize = (scene: HoleScene): HoleScene => ({ ...scene, hole: { ...scene.hole, diameter_m: 1e-3 * NEW_mm } })

/** The same job: the hole measured anew, the standard of the new diameter, its own recordings, its own probe. */
function after(sheet: HoleSheet): HoleSheet {
  write('reference-new.wav', 'reference-start.wav', 71)
  write('hole-new.wav', 'hole-P01.wav', 72)
  write('recheck-new.wav', 'recheck-1.wav', 73)
  const taken = { taken: '2026-03-02T13:00:00+00:00', equipment: { probe: 'P-52' } }
  return {
    ...sheet,
    reference_standard: { ...sheet.reference_standard, id: 'STD-52', hole_diameter_mm: NEW_mm },
    holes: sheet.holes.map((hole) => ({ ...hole, preparation: measuredAt(NEW_mm + 0.01) })),
    recordings: [
      { of: 'reference', file: 'reference-new.wav', ...taken },
      { of: 'hole', hole: 'P02', file: 'hole-new.wav', ...taken },
      { of: 'recheck', file: 'recheck-new.wav', ...taken }
    ]
  }
}

const run = (sheet: HoleSheet) => runChain({ sheet, folder, archive, clock })
const placeOf = async ({ job }: HoleSheet) => replay(got(await archive.entries(job.id))).places[0]!
const rowsOf = (sheet: HoleSheet) => [...equipmentRows(sheet), gauge]

describe('a hole that is reamed', () => {
  it('is examined at its new diameter, on a standard of that diameter, and then closed', async () => {
    const sheet = before()
    const shop = { archive, folder, clock, three }
    const signing = { archive, job: sheet.job.id, signer: two, clock }
    await register(shop, [three.row, two.row, ...rowsOf(sheet)])
    await approved(shop, sheet)
    expect((await run(sheet)).refusals).toEqual([])
    const found = openIndications(await placeOf(sheet)).filter((one) => !one.includes(', relevant:'))
    const classes = found.map((one) => ({ indication: one.split(',')[0]!, class: 'nonrelevant' as const }))
    const asked = { place: 'P02', classes, disposition: 'clean-up ream' as const, reason: 'seen with the borescope' }
    const no = await decide(asked, signing)
    expect(isRefusal(no) ? no.found : '').toContain(`permitted size ${NEW_mm} mm`)
    got(await decide({ ...asked, size_mm: NEW_mm }, signing))
    expect(choiceOf((await placeOf(sheet)).disposition)).toMatchObject({ chosen_mm: NEW_mm, measured_mm: [[4.8, 4.8]] })
    got(await cutHole({ place: 'P02', aimed_mm: NEW_mm }, signing))
    const early = await closePlaces(['P02'], signing)
    expect(isRefusal(early) ? early.found : '').toContain('not measured since it was cut on 2026-03-02')

    const next = after(sheet)
    const other = { ...next, equipment: { ...next.equipment, probe: 'P-52' } }
    await register(shop, rowsOf(other))
    got(await openJob({ sheet: next, folder, archive, clock }))
    const { refusals, outcomes } = await run(next)
    expect(refusals).toEqual([])
    expect(outcomes.map(({ did }) => did)).toEqual(['standardized', 'examined', 'recheck'])
    const place = await placeOf(sheet)
    expect(place).toMatchObject({
      state: 'examined, no relevant indication',
      loop: { removed: { least_mm: 0.41, most_mm: 0.41 }, open: [] },
      latest: { refusals: [], standardDiameter_mm: NEW_mm }
    })
    got(await closePlaces(['P02'], signing))
    expect((await placeOf(sheet)).closed?.by.name).toBe('B. Two')
    const verified = got(await checkJob(archive, sheet.job.id, { again: true }))
    expect(verified).toMatchObject({
      intact: { holds: true },
      replayed: { holds: true, count: 2 },
      registers: { checked: true, faults: [] }
    })
    expect(got(await reportHtml(archive, sheet.job.id))).toContain('0.41 to 0.41 mm off the diameter')
  }, 120_000)
})
