import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { isRefusal, type Refusal } from '@trueloop/ground/refusal'
import type { Examination } from '@trueloop/job/examine'
import type { HoleSheet } from '@trueloop/job/plan'
import { type EntryRow, replay } from '@trueloop/job/record'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { type Archive, openArchive } from '../archive/index.ts'
import { checkJob, openJob, runChain, summaryOf, unconfirmed } from './index.ts'
import { demoJob, scaled, silent, writeDemo } from './testing/demo-job.ts'
import { got } from './testing/shop.ts'

const reference = 'reference-start.wav'
const few = [reference, 'hole-P01.wav', 'hole-P02.wav', 'recheck-1.wav']

let folder = ''
let archive: Archive

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'trueloop-chain-'))
  archive = got(await openArchive(join(folder, 'archive')))
})

afterEach(async () => {
  await archive.close()
  rmSync(folder, { recursive: true })
})

const rowsOf = async (sheet: HoleSheet): Promise<readonly EntryRow[]> => got(await archive.entries(sheet.job.id))
const stateOf = async (sheet: HoleSheet) => replay(await rowsOf(sheet))
const run = (sheet: HoleSheet, wanted = {}) => runChain({ sheet, folder, archive }, wanted)
const codes = (refusals: readonly { readonly code: string }[]) => refusals.map(({ code }) => code)

describe('the chain', () => {
  it('records every recording once, in order, and adds nothing when run again', async () => {
    const sheet = demoJob(folder, few)
    const { outcomes, refusals } = await run(sheet)
    expect(refusals).toEqual([])
    expect(outcomes.map(({ did }) => did)).toEqual(['standardized', 'examined', 'examined', 'recheck'])
    const rows = await rowsOf(sheet)
    const again = await run(sheet)
    expect(again.outcomes.every(({ before }) => before)).toBe(true)
    expect(await rowsOf(sheet)).toEqual(rows)
    const kept = replay(rows).recordings.map(({ file }) => file)
    expect(kept).toEqual(few)
  })

  it('can be examined again from its record alone, to the bit', async () => {
    const sheet = demoJob(folder, few)
    await run(sheet)
    const verification = got(await checkJob(archive, sheet.job.id, { again: true }))
    expect(verification).toMatchObject({ intact: { holds: true }, replayed: { holds: true, count: 2 } })
  })

  it('finds a changed original', async () => {
    const sheet = demoJob(folder, few)
    await run(sheet)
    const [first] = (await stateOf(sheet)).recordings
    writeFileSync(archive.originalPath(first?.sha256 ?? ''), 'other bytes')
    const verification = got(await checkJob(archive, sheet.job.id, {}))
    expect(verification.intact.holds).toBe(false)
  })

  it('goes on after an interruption, without loss or doubles, to the same findings', async () => {
    const sheet = demoJob(folder, few)
    const ending = new AbortController()
    const tell = ({ step, file }: { step: string; file: string }) => {
      if (step === 'reading' && file === 'hole-P02.wav') ending.abort()
    }
    const stopped = await runChain({ sheet, folder, archive, signal: ending.signal, tell })
    expect(stopped.interrupted).toBe(true)
    expect(stopped.outcomes.map(({ file }) => file)).toEqual([reference, 'hole-P01.wav'])
    await run(sheet)
    const { places } = await stateOf(sheet)
    const examined = places.flatMap(({ examinations }) => examinations)
    expect(examined.map(({ file }) => file)).toEqual(['hole-P01.wav', 'hole-P02.wav'])
    const whole = got(await openArchive(join(folder, 'whole')))
    await runChain({ sheet, folder, archive: whole })
    const other = replay(got(await whole.entries(sheet.job.id))).places.flatMap(({ examinations }) => examinations)
    await whole.close()
    expect(examined.map(({ examination }) => examination)).toEqual(other.map(({ examination }) => examination))
  })

  it('examines one hole, and keeps the order of the scans for the rest', async () => {
    const sheet = demoJob(folder, few)
    await run(sheet, { subject: 'P02' })
    await run(sheet)
    const { recordings, rechecks } = await stateOf(sheet)
    expect(recordings.map(({ file }) => file)).toEqual(few)
    expect(rechecks).toHaveLength(1)
  })

  it('voids what was scanned since the last good check when one fails', async () => {
    const sheet = demoJob(folder, few)
    writeDemo(join(folder, 'recheck-1.wav'), 'recheck-1.wav', scaled(0.7))
    const { outcomes } = await run(sheet)
    expect(outcomes.at(-1)).toMatchObject({ did: 'recheck', passed: false })
    const summary = summaryOf(await stateOf(sheet))
    expect(summary.places.slice(0, 2).map(({ state }) => state)).toEqual(Array(2).fill('voided by a recheck'))
    expect(summary.waiting).toBe(true)
  })

  it('counts a recheck in which no notch can be read as failed', async () => {
    const sheet = demoJob(folder, few)
    writeDemo(join(folder, 'recheck-1.wav'), 'recheck-1.wav', silent)
    const { outcomes } = await run(sheet)
    expect(outcomes.at(-1)).toMatchObject({ did: 'recheck', passed: false, unread: { refused: true } })
  })

  it('records a scan that is refused as not examined, and goes on', async () => {
    const sheet = demoJob(folder, few)
    writeDemo(join(folder, 'hole-P01.wav'), 'hole-P01.wav', silent)
    const { outcomes, refusals } = await run(sheet)
    expect(refusals).toEqual([])
    expect(outcomes[1]).toMatchObject({ did: 'examined', refusals: ['scan/all-zero'] })
    const three = { found: expect.any(String), needed: expect.any(String), remedy: expect.any(String) }
    const reasons = [{ code: 'scan/all-zero', ...three, where: { file: 'hole-P01.wav' } }]
    expect(outcomes[1]).toMatchObject({ reasons })
    const [first, second] = (await stateOf(sheet)).places
    expect(first?.state).toBe('not examined')
    expect(second?.state).not.toBe('not examined')
    const verification = got(await checkJob(archive, sheet.job.id, { again: true }))
    expect(verification.replayed).toMatchObject({ holds: true, count: 2 })
  })

  it('does not examine where a value of the set-up differs, and withholds sizes where one is unknown', async () => {
    const sheet = demoJob(folder, few)
    const [first, second, third, fourth] = sheet.recordings
    const changed = [
      ...[first, { ...second, equipment: { gain: 'turned up' } }, { ...third, equipment: { gain: 'unknown' } }, fourth]
    ] as HoleSheet['recordings']
    await run({ ...sheet, recordings: changed })
    const [p1, p2] = (await stateOf(sheet)).places
    expect(p1?.latest?.refusals).toContain('examine/setup-differs')
    expect(p1?.state).toBe('not examined')
    expect(p2?.latest?.refusals).toContain('examine/setup-unknown')
    const document = got(await archive.document(p2?.latest?.examination ?? ''))
    const { indications } = JSON.parse(document.text) as Examination
    expect(indications.length).toBeGreaterThan(0)
    for (const { size } of indications) expect(size.withheld.length).toBeGreaterThan(0)
  })

  it('corrects the entry of a recording when the sheet says otherwise, and examines it again', async () => {
    const sheet = demoJob(folder, few)
    await run(sheet)
    const [first, second, ...rest] = sheet.recordings
    const swapped = { ...second, columns: { x: 1, y: 0, index: 2 } }
    const { outcomes } = await run({ ...sheet, recordings: [first, swapped, ...rest] as HoleSheet['recordings'] })
    expect(outcomes.map(({ before }) => before)).toEqual([true, false, true, true])
    const state = await stateOf(sheet)
    expect(state.corrections).toHaveLength(1)
    expect(state.places[0]?.examinations).toHaveLength(1)
  })
})

describe('opening a job', () => {
  it('records its facts and documents once', async () => {
    const sheet = demoJob(folder, [reference])
    const opened = got(await openJob({ sheet, folder, archive }))
    const stored = ['job-opened', 'document-stored', 'document-stored', 'document-stored', 'technique-confirmed']
    expect(opened.added).toEqual(stored)
    expect(got(await openJob({ sheet, folder, archive })).added).toEqual([])
  })

  it('refuses other facts under the same number, and corrects them for a reason', async () => {
    const sheet = demoJob(folder, [reference])
    got(await openJob({ sheet, folder, archive }))
    const other = { ...sheet, job: { ...sheet.job, component: 'another' } }
    const refused = await openJob({ sheet: other, folder, archive })
    expect(isRefusal(refused) && refused.code).toBe('chain/job-differs')
    got(await openJob({ sheet: other, folder, archive }, 'the wrong panel was named'))
    const state = await stateOf(sheet)
    expect(state.opened.job.component).toBe('another')
    expect(state.corrections).toHaveLength(1)
  })
})

describe('what is refused, nothing recorded of it', () => {
  const untouched = async (sheet: HoleSheet) => expect(await rowsOf(sheet)).toEqual([])

  it('an unconfirmed technique', async () => {
    const { confirmed: _, ...sheet } = demoJob(folder, few)
    expect(unconfirmed({ sheet })?.code).toBe('plan/not-confirmed')
    expect(codes((await run(sheet)).refusals)).toEqual(['plan/not-confirmed'])
    expect(await rowsOf(sheet)).toEqual([])
  })

  it('a technique that nobody has signed for, where the archive has registers', async () => {
    const sheet = demoJob(folder, few)
    const registers = { sheet, folder, archive, registers: true }
    expect(codes((await runChain(registers)).refusals)).toEqual(['chain/not-approved'])
    await untouched(sheet)
    got(await openJob(registers))
    const before = await stateOf(sheet)
    expect(before).toMatchObject({ opened: { signing: 'required' } })
    expect(before.confirmed).toBeUndefined()
    expect(codes((await runChain({ sheet, folder, archive })).refusals)).toEqual(['chain/not-approved'])
    expect((await stateOf(sheet)).count).toBe(before.count)
  })

  it('another method of examination than the technique was approved with', async () => {
    const sheet = demoJob(folder, few)
    const other = { ...sheet, technique: { ...sheet.technique, approved_method: 999 } }
    expect(codes((await run(other)).refusals)).toEqual(['chain/another-method'])
    await untouched(sheet)
  })

  it('files that are not there, each at its place', async () => {
    const sheet = demoJob(folder, few)
    rmSync(join(folder, 'hole-P01.wav'))
    rmSync(join(folder, 'hole-P02.wav'))
    const { refusals } = await run(sheet)
    expect(codes(refusals)).toEqual(['chain/no-recording', 'chain/no-recording'])
    expect(refusals.map(({ where }) => where?.path)).toEqual(['recordings[1].file', 'recordings[2].file'])
    await untouched(sheet)
  })

  it('the same content for two places', async () => {
    const sheet = demoJob(folder, few)
    writeDemo(join(folder, 'hole-P02.wav'), 'hole-P01.wav')
    expect(codes((await run(sheet)).refusals)).toEqual(['chain/same-content'])
    await untouched(sheet)
  })

  it('a recorded content for another place', async () => {
    const sheet = demoJob(folder, few)
    await run(sheet)
    writeDemo(join(folder, 'hole-P02.wav'), 'hole-P01.wav')
    const moved = sheet.recordings.filter(({ file }) => file !== 'hole-P01.wav')
    expect(codes((await run({ ...sheet, recordings: moved })).refusals)).toEqual(['chain/same-content'])
  })

  it('columns that are only guessed, named by file', async () => {
    const { columns: _, ...sheet } = demoJob(folder, few)
    const { refusals } = await run(sheet)
    expect(codes(refusals)).toEqual(Array(4).fill('scan/uncertain-columns'))
    expect(refusals[1]?.where?.file).toBe('hole-P01.wav')
    await untouched(sheet)
  })

  it('another order than the record has', async () => {
    const sheet = demoJob(folder, few)
    await run(sheet)
    const [first, second, third, fourth] = sheet.recordings
    const turned = [first, third, second, fourth] as HoleSheet['recordings']
    expect(codes((await run({ ...sheet, recordings: turned })).refusals)).toEqual(['chain/order-differs'])
  })

  it('a name that the sheet does not have', async () => {
    const sheet = demoJob(folder, [reference])
    expect(codes((await run(sheet, { subject: 'P99' })).refusals)).toEqual(['chain/unknown-subject'])
  })

  it('a reference scan in which no notch is found: nothing after it is examined', async () => {
    const sheet = demoJob(folder, few)
    writeDemo(join(folder, reference), 'hole-P01.wav', scaled(0.9))
    const place = (one: Refusal): Refusal => ({ ...one, where: { ...one.where, file: 'job.yaml', line: 12 } })
    const { outcomes, refusals } = await runChain({ sheet, folder, archive, place })
    expect(outcomes).toEqual([])
    expect(refusals).toHaveLength(1)
    expect(refusals[0]?.where).toMatchObject({ path: 'recordings[0]', file: 'job.yaml', line: 12 })
    await untouched(sheet)
  })

  it('a scan without a standardization before it', async () => {
    const sheet = demoJob(folder, few)
    const without = sheet.recordings.filter(({ of }) => of !== 'reference')
    const { refusals } = await run({ ...sheet, recordings: without })
    expect(codes(refusals)).toEqual(['chain/no-standardization'])
    await untouched(sheet)
  })
})
