import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { isRefusal } from '@trueloop/ground/refusal'
import type { HoleSheet, RegisterRow } from '@trueloop/job/plan'
import { canonical, replay } from '@trueloop/job/record'
import Database from 'libsql'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { type Archive, openArchive } from '../archive/index.ts'
import { decide } from '../decide/index.ts'
import { strikeOff } from '../shop/index.ts'
import { checkJob, openJob, reportHtml, runChain } from './index.ts'
import { demoJob } from './testing/demo-job.ts'
import { approved, certificate, dayOf, equipmentRows, got, register, signedSheet, signerOf } from './testing/shop.ts'

/**
 * Oracle: the days of the certificates, written in the rows; the scans of the demonstration were taken on 2026-03-02.
 * That what was used is traceable, and that expiry counts on the day of the scan: ISO 15549, 10.3 and the rules of the trade.
 */

const [reference, hole, recheck] = ['reference-start.wav', 'hole-P01.wav', 'recheck-1.wav']
const clock = dayOf('2026-03-03T08:00:00Z')
const three = signerOf('C. Level', 'III')
const two = signerOf('B. Two', 'II')

let folder = ''
let archive: Archive

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'trueloop-registered-'))
  archive = got(await openArchive(join(folder, 'archive')))
})
afterEach(async () => {
  await archive.close()
  rmSync(folder, { recursive: true, force: true })
})

const shop = () => ({ archive, folder, clock, three })
const sheetOf = (files: readonly string[]) => signedSheet(demoJob(folder, files))
const run = (sheet: HoleSheet) => runChain({ sheet, folder, archive, clock })
const stateOf = async ({ job }: HoleSheet) => replay(got(await archive.entries(job.id)))

/** The rows of a sheet, one of them otherwise or missing. */
const rowsFor = (sheet: HoleSheet, other: (row: RegisterRow) => RegisterRow | undefined = (row) => row) => [
  three.row,
  two.row,
  ...equipmentRows(sheet).flatMap((row) => other(row) ?? [])
]

const until = (expires: string, register: RegisterRow['register']) => (row: RegisterRow) =>
  row.register === register && 'certificate' in row
    ? ({ ...row, certificate: certificate(expires) } as RegisterRow)
    : row

describe('a job in a shop with registers', () => {
  it('keeps the rows of what it used, once a day, and verify looks at them again', async () => {
    const sheet = sheetOf([reference!, hole!, recheck!])
    await register(shop(), rowsFor(sheet))
    await approved(shop(), sheet)
    const first = { ...sheet, recordings: sheet.recordings.slice(0, 2) }
    expect(await run(first)).toMatchObject({ refusals: [] })
    expect((await run(sheet)).notes).toBeUndefined()
    const { held, documents } = await stateOf(sheet)
    expect(held.map(({ day }) => day)).toEqual(['2026-03-02'])
    expect(held[0]?.rows.map(({ what, edition }) => [what, edition])).toEqual([
      ['procedure', '1'],
      ['person', 'ET-B. Two, near vision 2025-10-01'],
      ['reference standard', 'K-1'],
      ['instrument', 'K-1'],
      ['probe', '']
    ])
    const kept = new Set(documents.map(({ document }) => document))
    expect(held[0]?.rows.every(({ document }) => kept.has(document))).toBe(true)
    expect(got(await checkJob(archive, sheet.job.id, {})).intact).toMatchObject({ holds: true })
    const html = got(await reportHtml(archive, sheet.job.id)) ?? ''
    expect(html).toContain('certificate from 2025-04-01 to 2026-12-31')
    expect(html).toContain('Invented One, simulated instrument')
  })

  it('says what falls due', async () => {
    const sheet = sheetOf([reference!])
    await register(shop(), rowsFor(sheet, until('2026-03-31', 'instrument')))
    await approved(shop(), sheet)
    expect((await run(sheet)).notes).toEqual([
      'falls due: certificate of instrument simulated instrument, 2026-03-31; 29 days left on 2026-03-02'
    ])
    expect(got(await reportHtml(archive, sheet.job.id))).toContain('Ends within 30 days of use')
  })

  it.each<[string, string, (row: RegisterRow) => RegisterRow | undefined]>([
    ['plan/out-of-date', 'equipment.instrument', until('2026-03-01', 'instrument')],
    ['plan/out-of-date', 'reference_standard.id', until('2026-03-01', 'reference standard')],
    ['plan/not-registered', 'equipment.probe', (row) => (row.register === 'probe' ? undefined : row)],
    [
      'plan/register-differs',
      'technique.procedure.revision',
      (row) => (row.register === 'procedure' ? { ...row, revision: '2' } : row)
    ]
  ])('is refused with %s at %s, and nothing of the scan is recorded', async (code, path, other) => {
    const sheet = sheetOf([reference!, hole!])
    await register(shop(), rowsFor(sheet, other))
    await approved(shop(), sheet)
    const before = (await stateOf(sheet)).count
    const { refusals } = await run(sheet)
    expect(refusals.map((one) => [one.code, one.where?.path])).toEqual([[code, path]])
    expect((await stateOf(sheet)).count).toBe(before)
    expect(got(await openJob({ sheet, folder, archive, clock })).open?.code).toBe(code)
  })

  it('examines on the last day, and not on the day after it', async () => {
    const sheet = sheetOf([reference!, hole!])
    await register(shop(), rowsFor(sheet, until('2026-03-02', 'instrument')))
    await approved(shop(), sheet)
    const [one, next] = sheet.recordings
    const late = { ...sheet, recordings: [one!, { ...next!, taken: '2026-03-03T07:00:00Z' }] } as HoleSheet
    expect((await run(late)).refusals.map(({ code }) => code)).toEqual(['plan/out-of-date'])
    expect((await run(sheet)).refusals).toEqual([])
  })

  it('stands as it was recorded, whatever is struck off afterward', async () => {
    const sheet = sheetOf([reference!, hole!])
    await register(shop(), rowsFor(sheet))
    await approved(shop(), sheet)
    expect((await run({ ...sheet, recordings: sheet.recordings.slice(0, 1) })).refusals).toEqual([])
    const out = { what: 'probe', name: sheet.equipment.probe, from: '2026-03-02', reason: 'coil worn' } as const
    got(await strikeOff(out, { archive, clock, signer: three }))
    expect((await run({ ...sheet, recordings: sheet.recordings.slice(0, 1) })).refusals).toEqual([])
    expect((await run(sheet)).refusals.map(({ code }) => code)).toEqual(['plan/not-registered'])
  })

  it('shows where a kept row was changed', async () => {
    const sheet = sheetOf([reference!])
    await register(shop(), rowsFor(sheet))
    await approved(shop(), sheet)
    await run(sheet)
    const [row] = (await stateOf(sheet)).held[0]!.rows.filter(({ what }) => what === 'instrument')
    await archive.close()
    const database = new Database(join(folder, 'archive', 'archive.db'))
    database.exec(
      `update document set body = replace(body, '2026-12-31', '2036-12-31') where hash = '${row?.document}'`
    )
    database.close()
    archive = got(await openArchive(join(folder, 'archive')))
    const { intact } = got(await checkJob(archive, sheet.job.id, {}))
    expect(intact.faults.map(({ place }) => place).filter((place) => place.includes('instrument'))).toHaveLength(1)
  })
})

describe('what the sheet corrects of a recording', () => {
  it('is signed, by a person whose document the job then holds', async () => {
    const sheet = sheetOf([reference!, hole!])
    await register(shop(), rowsFor(sheet))
    await approved(shop(), sheet)
    expect((await run(sheet)).refusals).toEqual([])
    const [first, second] = sheet.recordings
    const other = { ...sheet, recordings: [first!, { ...second!, since: ['drop' as const] }] } as HoleSheet
    expect((await run(other)).refusals.map(({ code }) => code)).toEqual(['record/not-signed'])
    const signed = await runChain({ sheet: other, folder, archive, clock, signer: two })
    expect(signed.refusals).toEqual([])
    const { corrections, documents, places } = await stateOf(sheet)
    expect(corrections.map(({ by }) => by.name)).toEqual(['B. Two'])
    expect(documents.some(({ document }) => document === two.person)).toBe(true)
    const standing = places.find(({ place }) => place.name === 'P01')?.examinations.at(-1)?.standing
    expect(standing).toMatchObject({ why: 'scanned after a drop without a recheck' })
    expect(got(await checkJob(archive, sheet.job.id, {})).intact).toMatchObject({ holds: true })
  })
})

describe('a decision', () => {
  it('rests on the revision that is in force on its own day', async () => {
    const sheet = sheetOf([reference!, hole!])
    const superseded = (row: RegisterRow): RegisterRow =>
      row.register === 'procedure' ? { ...row, superseded: '2026-03-03' } : row
    await register(shop(), rowsFor(sheet, superseded))
    await approved({ ...shop(), clock: dayOf('2026-03-02T18:00:00Z') }, sheet)
    expect((await run(sheet)).refusals).toEqual([])
    const signing = { archive, job: sheet.job.id, signer: two, clock }
    const late = await decide({ place: 'P01', disposition: 'no recordable indication' }, signing)
    expect(isRefusal(late) && [late.code, late.found]).toEqual([
      'decide/procedure-not-in-force',
      'procedure Demonstration procedure (invented), revision 1, on 2026-03-03: expired'
    ])
    expect(isRefusal(await decide({ place: 'P01', disposition: 'refer' }, signing))).toBe(false)
  })
})

describe('an entry that repeats its rows wrongly', () => {
  it('is told by verify', async () => {
    const sheet = sheetOf([reference!])
    await register(shop(), rowsFor(sheet))
    await approved(shop(), sheet)
    await run(sheet)
    const state = await stateOf(sheet)
    const held = state.held[0]!
    const rows = held.rows.map((row) => ({
      ...row,
      spans: row.spans.map((span) => (span.until === '2026-12-31' ? { ...span, until: '2036-12-31' } : span))
    }))
    const wrong = { ...held, id: 'wrong', rows }
    expect(canonical(wrong.rows)).not.toBe(canonical(held.rows))
    expect(isRefusal(await archive.append(sheet.job.id, state.count, [wrong]))).toBe(false)
    const { intact } = got(await checkJob(archive, sheet.job.id, {}))
    expect(intact.faults.map(({ place }) => place)).toEqual([
      `entry ${state.count}, reference standard ${sheet.reference_standard.id}`,
      `entry ${state.count}, instrument ${sheet.equipment.instrument}`
    ])
  })
})
