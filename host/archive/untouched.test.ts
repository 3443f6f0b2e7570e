import { closeSync, existsSync, mkdtempSync, openSync, rmSync, statSync, utimesSync, writeSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { openArchive } from './index.ts'

/** Oracle: SQLite's own quick_check, and a page that the test has overwritten. */

let folder = ''
const database = () => join(folder, 'archive.db')
const codeOf = (value: unknown) => (isRefusal(value) ? value.code : 'no refusal')
const got = <T>(result: Result<T>): T => {
  if (isRefusal(result)) throw new Error(result.code)
  return result as T
}

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'trueloop-untouched-'))
  const archive = got(await openArchive(folder))
  for (let at = 0; at < 40; at++) got(await archive.storeDocument('x', { text: 'x'.repeat(3000), at }))
  await archive.close()
})
afterEach(() => rmSync(folder, { recursive: true, force: true }))

/** Where a page of the middle was, there is nothing. A second later: a file system keeps time in steps of milliseconds. */
function breakPage(): void {
  const file = openSync(database(), 'r+')
  writeSync(file, new Uint8Array(4096), 0, 4096, 4096 * 20)
  closeSync(file)
  const later = statSync(database()).mtimeMs / 1000 + 1
  utimesSync(database(), later, later)
}

describe('a database file with a broken page', () => {
  it('is refused when it is opened', async () => {
    breakPage()
    expect(codeOf(await openArchive(folder))).toBe('archive/damaged')
  })

  it('is refused by verify where the time of the file hides that somebody was there', async () => {
    const { mtimeMs } = statSync(database())
    breakPage()
    // seconds with a fraction: half a millisecond keeps it from being cut to the one before
    const before = (Math.floor(mtimeMs) + 0.5) / 1000
    utimesSync(database(), before, before)
    const archive = got(await openArchive(folder))
    const found = await archive.checkPages()
    await archive.close()
    expect(codeOf(found)).toBe('archive/damaged')
  })
})

describe('the note of a sound closing', () => {
  const note = () => join(folder, 'archive.closed')

  it('is there after closing, and not while a program has the archive open: one that is killed leaves none', async () => {
    expect(existsSync(note())).toBe(true)
    const archive = got(await openArchive(folder))
    expect(existsSync(note())).toBe(false)
    await archive.close()
    expect(existsSync(note())).toBe(true)
  })
})
