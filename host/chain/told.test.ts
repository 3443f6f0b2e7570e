import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { sheetSchema } from '@trueloop/job/plan'
import { replay } from '@trueloop/job/record'
import { afterEach, beforeEach, expect, it } from 'vitest'
import { type Archive, openArchive } from '../archive/index.ts'
import { openJob, reportHtml } from './index.ts'
import { demoJob } from './testing/demo-job.ts'
import { got } from './testing/shop.ts'

/** Oracle: the sheet itself; every word that a person wrote there stands in the record and in the report. */

let folder = ''
let archive: Archive

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'trueloop-told-'))
  archive = got(await openArchive(join(folder, 'archive')))
})
afterEach(async () => {
  await archive.close()
  rmSync(folder, { recursive: true, force: true })
})

const told = {
  ...{ laboratory: 'Invented Laboratory', client: 'Invented Air', condition: 'dismantled', surface: 'bare bore' },
  ...{ standard_followed: 'ISO 15549:2019', data_review: 'by a second person', deviations: 'none at all' },
  retention: { years: 7, basis: 'contract 7' }
}

it('what the job sheet says for the report goes through the record into it', async () => {
  const whole = demoJob(folder, ['reference-start.wav'])
  const [first, ...rest] = whole.holes
  const holes = [{ ...first!, surface: 'primer, 20 µm', oversize_step: 'first, 1/64 in' }, ...rest]
  const sheet = { ...whole, job: { ...whole.job, ...told }, holes }
  expect(sheetSchema.safeParse(sheet).success).toBe(true)
  expect(sheetSchema.safeParse({ ...sheet, job: { ...sheet.job, retention: { years: -1 } } }).success).toBe(false)
  got(await openJob({ sheet, folder, archive }))
  expect(replay(got(await archive.entries(sheet.job.id))).opened.job).toMatchObject(told)
  const html = got(await reportHtml(archive, sheet.job.id))!
  const { retention, ...words } = told
  for (const word of [...Object.values(words), 'primer, 20 µm', 'first, 1/64 in', retention.basis, '7 years']) {
    expect(html.replaceAll('\u00a0', ' ').replaceAll('&nbsp;', ' ')).toContain(word)
  }
  expect(got(await openJob({ sheet, folder, archive })).added).toEqual([])
})
