import { copyFileSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { isRefusal } from '@trueloop/ground/refusal'
import { canonical, replay } from '@trueloop/job/record'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { type Archive, openArchive } from '../archive/index.ts'
import { reexamine } from './again.ts'
import { examineAdded, runChain } from './index.ts'
import { bytesOf } from './source.ts'
import { demoJob, writeDemo } from './testing/demo-job.ts'
import { got } from './testing/laws.ts'

/** Oracle: the same recordings led through the chain by their sheet, all at once. */

let folder = ''
let archive: Archive
beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'trueloop-added-'))
  archive = got(await openArchive(join(folder, 'archive')))
})
afterEach(async () => {
  await archive.close()
  rmSync(folder, { recursive: true })
})

const hole = (name: string) => ({ of: 'hole', name }) as const
const begun = ['reference-start.wav', 'hole-P01.wav']

async function add(file: string, of: Parameters<typeof examineAdded>[0]['of']) {
  const original = got(await archive.keepOriginal(bytesOf(join(folder, file))))
  return examineAdded({ archive, job: 'DEMO-1', original, file, of })
}
const state = async () => replay(got(await archive.entries('DEMO-1')))
const codeOf = (value: unknown) => (isRefusal(value) ? value.code : 'no refusal')

describe('a recording that comes when the job is open', () => {
  it('is examined as its sheet would have it examined, and verified from the record alone', async () => {
    const sheet = demoJob(folder, [...begun, 'hole-P02.wav', 'recheck-1.wav'])
    const first = { ...sheet, recordings: sheet.recordings.filter(({ file }) => begun.includes(file)) }
    expect((await runChain({ sheet: first, folder, archive })).refusals).toEqual([])
    const added = got(await add('hole-P02.wav', hole('P02')))
    expect(added?.outcome).toMatchObject({ did: 'examined', before: false, reasons: [] })
    expect(got(await add('recheck-1.wav', { of: 'recheck' }))?.outcome).toMatchObject({ did: 'recheck', passed: true })
    const other = got(await openArchive(join(folder, 'other')))
    expect((await runChain({ sheet, folder, archive: other })).refusals).toEqual([])
    const whole = replay(got(await other.entries('DEMO-1')))
    const said = ({ places }: typeof whole) =>
      places.map(({ state, joined, provisional, examinations }) => ({
        ...{ state, joined, provisional },
        examinations: examinations.map(({ examination }) => examination)
      }))
    expect(canonical(said(await state()))).toBe(canonical(said(whole)))
    await other.close()
    const rows = got(await archive.entries('DEMO-1'))
    const entry = rows.map(({ body }) => JSON.parse(body)).findLast(({ kind }) => kind === 'examined')
    expect(got(await reexamine(archive, rows, entry)).indications.length).toBeGreaterThan(0)
  })

  it('is known by its content: nothing is done twice, and none is of two places', async () => {
    const sheet = demoJob(folder, begun)
    await runChain({ sheet, folder, archive })
    copyFileSync(join(folder, 'hole-P01.wav'), join(folder, 'renamed.wav'))
    const { count } = await state()
    expect(got(await add('renamed.wav', hole('P01')))?.outcome).toMatchObject({ did: 'examined', before: true })
    expect(codeOf(await add('renamed.wav', hole('P02')))).toBe('chain/same-content')
    expect((await state()).count).toBe(count)
  })

  it('that can not be read leaves nothing; of a job that is not there, none', async () => {
    await runChain({ sheet: demoJob(folder, begun), folder, archive })
    const { count } = await state()
    copyFileSync(import.meta.filename, join(folder, 'text.wav'))
    expect(isRefusal(await add('text.wav', hole('P02')))).toBe(true)
    expect((await state()).count).toBe(count)
    const original = { sha256: 'a'.repeat(64), bytes: 1 }
    expect(await examineAdded({ archive, job: 'none', original, file: 'a', of: hole('P01') })).toBeUndefined()
    writeDemo(join(folder, 'hole-P05.wav'), 'hole-P05.wav')
    expect(got(await add('hole-P05.wav', hole('P05')))?.outcome).toMatchObject({
      did: 'examined',
      reasons: [{ code: expect.any(String) }]
    })
  })
})
