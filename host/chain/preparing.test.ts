import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Examination } from '@trueloop/job/examine'
import type { HoleSheet } from '@trueloop/job/plan'
import { type EntryOf, replay } from '@trueloop/job/record'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { type Archive, openArchive } from '../archive/index.ts'
import { openCrew } from '../crew/index.ts'
import { bundledWorker } from '../crew/testing/bundled.ts'
import { sha256 } from '../hash/index.ts'
import { checkJob, openJob, reportHtml, runChain } from './index.ts'
import { demoJob, writeDemo } from './testing/demo-job.ts'
import { got } from './testing/shop.ts'

/** Oracle: the rule (the preparation in force when a recording was kept), counted by hand on the demonstration's P02. */

let folder = ''
let archive: Archive

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'trueloop-preparing-'))
  archive = got(await openArchive(join(folder, 'archive')))
})

afterEach(async () => {
  await archive.close()
  rmSync(folder, { recursive: true })
})

type Preparation = NonNullable<HoleSheet['holes'][number]['preparation']>

const preparation = (measured_diameter_mm: number, change: Partial<Preparation> = {}): Preparation => ({
  cleaned: { by: 'C', on: '2026-03-14' },
  deburred: 'not needed',
  visual: 'nothing',
  measured_diameter_mm,
  out_of_round_mm: 0,
  gauge: 'bore gauge 7',
  gauge_uncertainty_mm: 0.005,
  measured: { by: 'C', on: '2026-03-14' },
  ...change
})

function jobOf(one?: Preparation): HoleSheet {
  const sheet = demoJob(folder, ['reference-start.wav', 'hole-P02.wav'])
  return {
    ...sheet,
    technique: {
      ...sheet.technique,
      probe: { mean_coil_radius_mm: 0.5, fit: 'fixed diameter' },
      oversize: { max_loss_dB: 6 }
    },
    holes: sheet.holes.map((hole) => (hole.id === 'P02' && one !== undefined ? { ...hole, preparation: one } : hole))
  }
}

const stateOf = async (sheet: HoleSheet) => replay(got(await archive.entries(sheet.job.id)))

async function ran(sheet: HoleSheet) {
  const { refusals, outcomes } = await runChain({ sheet, folder, archive })
  expect(refusals).toEqual([])
  return outcomes.filter((one) => one.did === 'examined')
}

async function examinationOf(sheet: HoleSheet): Promise<Examination> {
  const place = (await stateOf(sheet)).places.find(({ place: { name } }) => name === 'P02')!
  return JSON.parse(got(await archive.document(place.latest!.examination)).text)
}

const kindsOf = async (sheet: HoleSheet) => (await stateOf(sheet)).entries.map(({ kind }) => kind)
const countOf = async (sheet: HoleSheet, kind: string) => (await kindsOf(sheet)).filter((one) => one === kind).length

const standard_mm = demoDiameter()
function demoDiameter(): number {
  const empty = mkdtempSync(join(tmpdir(), 'trueloop-sheet-'))
  const { reference_standard: standard } = demoJob(empty, [])
  rmSync(empty, { recursive: true })
  return standard.hole_diameter_mm
}

describe('a preparation of the sheet', () => {
  it('becomes an entry once, with its place, counts in the examination and is found again by verifying', async () => {
    const sheet = jobOf(preparation(standard_mm + 0.04))
    await ran(sheet)
    expect(await countOf(sheet, 'place-prepared')).toBe(1)
    expect((await ran(sheet))[0]).toMatchObject({ before: true })
    expect(await countOf(sheet, 'place-prepared')).toBe(1)
    const { places } = await stateOf(sheet)
    expect(places.find(({ place: { name } }) => name === 'P02')?.preparation).toMatchObject({
      ...preparation(standard_mm + 0.04),
      signed: false,
      by: { kind: 'person' }
    })
    expect((await examinationOf(sheet)).oversize).toMatchObject({ gauge: 'bore gauge 7' })
    expect(got(await reportHtml(archive, sheet.job.id))).toContain('bore gauge 7, ± 0.005')
    expect(got(await checkJob(archive, sheet.job.id, { again: true }))).toMatchObject({
      intact: { holds: true },
      replayed: { holds: true, count: 1 }
    })
  })

  it('without one nothing of it enters the record', async () => {
    const sheet = jobOf()
    await ran(sheet)
    expect(await kindsOf(sheet)).not.toContain('place-prepared')
    expect(await examinationOf(sheet)).not.toHaveProperty('oversize')
  })

  it('that changes is a new entry; what was kept before keeps the earlier one, what comes after has the later', async () => {
    const before = jobOf(preparation(standard_mm))
    await ran(before)
    const reamed = jobOf(preparation(standard_mm + 0.04, { visual: 'reamed' }))
    writeDemo(join(folder, 'again.wav'), 'hole-P02.wav', (one) => ({ ...one, x: one.x.map((v) => v * 1.0001) }))
    const recordings = [...reamed.recordings, { of: 'hole' as const, hole: 'P02', file: 'again.wav' }]
    const sheet = { ...reamed, recordings }
    const outcomes = await ran(sheet)
    expect(outcomes).toMatchObject([
      { file: 'hole-P02.wav', before: true },
      { file: 'again.wav', before: false }
    ])
    expect(await countOf(sheet, 'place-prepared')).toBe(2)
    expect((await examinationOf(sheet)).oversize).toBeDefined()
    expect((await ran(sheet)).map(({ before: known }) => known)).toEqual([true, true])
    expect(got(await checkJob(archive, sheet.job.id, { again: true }))).toMatchObject({
      replayed: { holds: true, count: 2 }
    })
  })

  it('that appears after a scan counts for it: nothing says that the hole was otherwise before', async () => {
    await ran(jobOf())
    const sheet = jobOf(preparation(standard_mm + 0.04))
    expect(await ran(sheet)).toMatchObject([{ before: false }])
    expect((await examinationOf(sheet)).oversize).toBeDefined()
    expect(await ran(sheet)).toMatchObject([{ before: true }])
    expect(got(await checkJob(archive, sheet.job.id, { again: true }))).toMatchObject({
      replayed: { holds: true, count: 2 }
    })
  })

  it('that was wrong is corrected with a reason, and its scans are examined again', async () => {
    await ran(jobOf(preparation(standard_mm + 0.04)))
    const sheet = jobOf(preparation(standard_mm))
    got(await openJob({ sheet, folder, archive }, 'mistyped'))
    expect(await countOf(sheet, 'place-prepared')).toBe(1)
    expect(await countOf(sheet, 'corrected')).toBe(1)
    expect(await ran(sheet)).toMatchObject([{ before: false }])
    expect((await examinationOf(sheet)).oversize).toBeUndefined()
    expect(got(await checkJob(archive, sheet.job.id, { again: true }))).toMatchObject({
      replayed: { holds: true, count: 2 }
    })
  })

  it('of another day is another one, whatever the reason', async () => {
    await ran(jobOf(preparation(standard_mm)))
    const later = { by: 'C', on: '2026-03-15' }
    const sheet = jobOf(preparation(standard_mm + 0.04, { cleaned: later, measured: later }))
    got(await openJob({ sheet, folder, archive }, 'reamed'))
    expect([await countOf(sheet, 'place-prepared'), await countOf(sheet, 'corrected')]).toEqual([2, 0])
  })

  it('that is gone from the sheet still holds', async () => {
    await ran(jobOf(preparation(standard_mm + 0.04)))
    const sheet = jobOf()
    expect(await ran(sheet)).toMatchObject([{ before: true }])
    expect((await stateOf(sheet)).places.find(({ place }) => place.name === 'P02')?.preparation).toBeDefined()
  })

  it('reaches the workers of a crew as well', async () => {
    const program = await bundledWorker('host/crew/worker.ts', 'preparing-worker')
    const crew = openCrew({ program, workers: 1 })
    const sheet = jobOf(preparation(standard_mm + 0.04))
    try {
      expect((await runChain({ sheet, folder, archive, crew })).refusals).toEqual([])
    } finally {
      await crew.close()
    }
    expect((await examinationOf(sheet)).oversize).toBeDefined()
    expect(got(await checkJob(archive, sheet.job.id, { again: true }))).toMatchObject({ replayed: { holds: true } })
  })
})

describe('a hole beyond the limit', () => {
  it('is recorded as not examined, with the reason', async () => {
    const sheet = jobOf(preparation(standard_mm + 0.4))
    const [outcome] = await ran(sheet)
    expect(outcome).toMatchObject({ refusals: expect.arrayContaining(['examine/oversize-beyond-limit']) })
    const { places } = await stateOf(sheet)
    expect(places.find(({ place }) => place.name === 'P02')?.missing.length).toBeGreaterThan(0)
    expect(got(await reportHtml(archive, sheet.job.id))).toContain('a loss of at most 6 dB at worst')
  })
})

describe('a photo', () => {
  const photo = 'wall.jpg'

  it('is kept as an original under its hash, and missed by verifying where it is gone', async () => {
    writeFileSync(join(folder, photo), 'pixels')
    const sheet = jobOf(preparation(standard_mm, { photo }))
    await ran(sheet)
    const { places } = await stateOf(sheet)
    const own: EntryOf<'place-prepared'> | undefined = places.find(({ place }) => place.name === 'P02')?.preparation
    expect(own?.photo).toBe(sha256('pixels'))
    expect(got(await checkJob(archive, sheet.job.id, {}))).toMatchObject({ intact: { holds: true } })
    rmSync(join(folder, 'archive', 'originals', own!.photo!.slice(0, 2)), { recursive: true })
    const { intact } = got(await checkJob(archive, sheet.job.id, {}))
    expect(intact.faults.map(({ place }) => place).join()).toContain('photo of hole P02')
  })

  it('that is not there refuses the whole, and leaves the record as it was', async () => {
    const sheet = jobOf(preparation(standard_mm, { photo }))
    const { refusals } = await runChain({ sheet, folder, archive })
    const index = sheet.holes.findIndex(({ id }) => id === 'P02')
    expect(refusals).toMatchObject([{ code: 'chain/no-photo', where: { path: `holes[${index}].preparation.photo` } }])
    expect(got(await archive.entries(sheet.job.id))).toEqual([])
  })
})
