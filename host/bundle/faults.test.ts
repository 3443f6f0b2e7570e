import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { isRefusal } from '@trueloop/ground/refusal'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { diskFiles, openArchive } from '../archive/index.ts'
import { failingAt } from '../archive/testing/failing.ts'
import { checkJob } from '../chain/index.ts'
import type { Source } from './contents.ts'
import { readBundle, writeBundle } from './index.ts'
import { type Home, makeHome } from './testing/home.ts'
import { addSmallJob, codeOf, got, plainJob } from './testing/small-job.ts'
import { writeWhole } from './whole-file.ts'

let home: Home
beforeEach(() => {
  home = makeHome()
})
afterEach(() => home.end())

const { job } = plainJob

describe('an export that is stopped', () => {
  it('at any step by a full disk leaves the file whole or not at all, and an older one as it was', async () => {
    const archive = await home.archive()
    await addSmallJob(archive, plainJob)
    const whole = await home.exported(archive, job, 'whole.zip')
    for (const before of [undefined, Buffer.from('older')]) {
      for (let at = 0; ; at++) {
        const { files, steps } = failingAt(at)
        const path = home.path('out.zip')
        if (before !== undefined) home.written('out.zip', before)
        else await diskFiles.remove(path)
        const written = await writeWhole({ files, path }, (sink) => writeBundle(archive, { job }, sink))
        if (steps.length <= at) break
        if (isRefusal(written)) expect(written.code).toBe('bundle/unwritable-file')
        const there = existsSync(path) ? readFileSync(path) : undefined
        expect(there === undefined || there.equals(whole) || there.equals(before ?? whole)).toBe(true)
        const left = readdirSync(home.folder).filter((name) => name.endsWith('.unfinished'))
        expect(left.length === 0 || steps.at(-1) === 'remove').toBe(true)
      }
    }
  })

  it('by Ctrl-C, or by a recording that can not be read to its end, leaves nothing', async () => {
    const archive = await home.archive()
    await addSmallJob(archive, plainJob)
    const path = home.path('out.zip')
    const to = (source: Source, signal?: AbortSignal) =>
      writeWhole({ files: diskFiles, path }, (sink) =>
        writeBundle(source, { job, ...(signal === undefined ? {} : { signal }) }, sink)
      )
    await expect(to(archive, AbortSignal.abort())).rejects.toThrow('abort')
    let reads = 0
    const failing: Source = {
      ...archive,
      readOriginal: async (sha256) => (++reads > 3 ? broken() : archive.readOriginal(sha256))
    }
    await expect(to(failing)).rejects.toThrow('cable')
    expect(readdirSync(home.folder)).toEqual(['archive'])
  })

  it('by bytes that change while it reads leaves nothing', async () => {
    const archive = await home.archive()
    await addSmallJob(archive, plainJob)
    let reads = 0
    const changing: Source = {
      ...archive,
      readOriginal: async (sha256) => (++reads > 3 ? other() : archive.readOriginal(sha256))
    }
    const path = home.path('out.zip')
    const no = await writeWhole({ files: diskFiles, path }, (sink) => writeBundle(changing, { job }, sink))
    expect(codeOf(no)).toBe('bundle/record-not-whole')
    expect(readdirSync(home.folder)).toEqual(['archive'])
  })

  it('can not be written where there is no folder to write into', async () => {
    const path = home.path('file/out.zip')
    home.written('file', Buffer.from('x'))
    expect(codeOf(await writeWhole({ files: diskFiles, path }, async () => 1))).toBe('bundle/unwritable-file')
  })
})

// biome-ignore lint/correctness/useYield: it breaks before its first piece
async function* broken(): AsyncGenerator<Uint8Array> {
  throw new Error('the cable was pulled')
}

async function* other(): AsyncGenerator<Uint8Array> {
  yield Buffer.from('other')
}

describe('an import that is stopped', () => {
  beforeEach(async () => {
    const archive = await home.archive('from')
    await addSmallJob(archive, plainJob)
    await home.exported(archive, job)
  })

  it('at any step by a full disk leaves no job, and the next one takes all of it in', async () => {
    for (let at = 0; ; at++) {
      const folder = home.path(`archive-${at}`)
      await got(await openArchive(folder)).close()
      const { files, steps } = failingAt(Number.POSITIVE_INFINITY)
      const opening = got(await openArchive(folder, { files }))
      const before = steps.length
      await opening.close()
      const failing = failingAt(before + at)
      const archive = got(await openArchive(folder, { files: failing.files }))
      const no = await readBundle(archive, home.path('job.zip'))
      const isThrough = failing.steps.length <= before + at
      if (isThrough) {
        await archive.close()
        break
      }
      expect(codeOf(no)).toBe('archive/disk-full')
      expect(got(await archive.jobs())).toEqual([])
      await archive.close()
      const again = got(await openArchive(folder))
      got(await readBundle(again, home.path('job.zip')))
      expect(got(await checkJob(again, job, {})).intact.holds).toBe(true)
      await again.close()
    }
  })

  it('by Ctrl-C leaves no job', async () => {
    const archive = await home.archive('to')
    const ending = new AbortController()
    const how = { signal: ending.signal, tell: () => ending.abort() }
    await expect(readBundle(archive, home.path('job.zip'), how)).rejects.toThrow('abort')
    expect(got(await archive.jobs())).toEqual([])
  })
})
