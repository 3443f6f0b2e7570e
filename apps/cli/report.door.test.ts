import { execFileSync } from 'node:child_process'
import { createHash } from 'node:crypto'
import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { canonical } from '@trueloop/job/record'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { needsTool } from '../../house/tools.ts'
import { runIn } from './testing/bundle.ts'

const folder = mkdtempSync(join(tmpdir(), 'trueloop-report-'))
const run = runIn(() => join(folder, 'home'))
const path = (name: string) => join(folder, name)

/** One hole examined is enough of a record to be printed. */
beforeAll(async () => {
  expect((await run('rehearse', path('demo'), '--seed', '5')).code).toBe(0)
  await run('standardize', path('demo/job.yaml'))
  await run('examine', path('demo/job.yaml'), '--hole', 'P02')
  const { out } = await run('report', 'DEMO-1', '--pdf', '--json', '--out', path('report.html'))
  expect(JSON.parse(out)).toMatchObject({ exit: 0, refusals: [], file: path('report.html'), pdf: path('report.pdf') })
}, 240_000)
afterAll(() => rmSync(folder, { recursive: true, force: true }))

const entriesOfRecord = async () => JSON.parse((await run('record', 'DEMO-1', '--entries', '--json')).out).entries

describe('the report of the bundled program', () => {
  it('is HTML by default, and PDF beside it, alone or on standard output where that is asked for', async () => {
    expect(readFileSync(path('report.html'), 'utf8')).toMatch(/^<!doctype html>/i)
    expect(readFileSync(path('report.pdf')).subarray(0, 5).toString()).toBe('%PDF-')
    const alone = JSON.parse((await run('report', 'DEMO-1', '--json', '--out', path('alone.pdf'))).out)
    expect(alone).toMatchObject({ pdf: path('alone.pdf') })
    expect(alone).not.toHaveProperty('file')
    expect((await run('report', 'DEMO-1', '--pdf', '--out', '-')).out.slice(0, 5)).toBe('%PDF-')
  }, 120_000)
})

needsTool('pdftotext', 'its PDF, read by another program', (program) => {
  it('says on each page which record it is, which page, and that it is a demonstration', async () => {
    const text = execFileSync(program, ['-layout', path('report.pdf'), '-'], {
      encoding: 'utf8',
      stdio: ['ignore', 'pipe', 'ignore']
    })
    const pages = text.split('\f').slice(0, -1)
    const last = (await entriesOfRecord()).at(-1)
    expect(pages.length).toBeGreaterThan(3)
    for (const [at, page] of pages.entries()) {
      expect(page).toContain('DEMONSTRATION: invented data, never to be signed off')
      expect(page).toMatch(new RegExp(`Page ${at + 1} of ${pages.length}\\b`))
      expect(page).toMatch(
        new RegExp(`Job DEMO-1 · chain head ${last.seq + 1}:${last.hash.slice(0, 12)} · method \\d+ · Trueloop \\d`)
      )
    }
    expect(text).toContain(`${last.seq + 1}:${last.hash}`)
  })
})

needsTool('pdfdetach', 'the record inside its PDF', (program) => {
  it('is the entries of the archive, to the byte, under hashes that any SHA-256 gives', async () => {
    execFileSync(program, ['-savefile', 'record.json', '-o', path('record.json'), path('report.pdf')], {
      stdio: 'ignore'
    })
    const text = readFileSync(path('record.json'), 'utf8')
    const { trueloop, job, entries } = JSON.parse(text)
    expect({ trueloop, job }).toEqual({ trueloop: 'entries/1', job: 'DEMO-1' })
    expect(text).toBe(canonical({ trueloop, job, entries }))
    const kept = await entriesOfRecord()
    expect(entries.map(({ hash }: { hash: string }) => hash)).toEqual(kept.map(({ hash }: { hash: string }) => hash))
    for (const { hash, ...rest } of entries)
      expect(createHash('sha256').update(canonical(rest), 'utf8').digest('hex')).toBe(hash)
  })
})

needsTool('qpdf', 'the structure of its PDF', (program) => {
  it('is sound', () =>
    expect(execFileSync(program, ['--check', path('report.pdf')], { encoding: 'utf8' })).toContain(
      'No syntax or stream encoding errors'
    ))
})
