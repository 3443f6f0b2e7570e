import { existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { isRefusal } from '@trueloop/ground/refusal'
import { type RegisterRow, shopChain } from '@trueloop/job/plan'
import { canonical } from '@trueloop/job/record'
import { invent, sha256, shopEntry } from '@trueloop/job/record/testing'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { type Archive, openArchive } from '../../archive/index.ts'
import { failingAt } from '../../archive/testing/failing.ts'
import { checkJob } from '../../chain/index.ts'
import { checkShop } from '../../shop/index.ts'
import { backUp, drill, restoreInto } from '../index.ts'
import { type Home, makeHome } from '../testing/home.ts'
import { addSmallJob, codeOf, got, keptIn, plainJob } from '../testing/small-job.ts'
import { originalPath, readList } from './list.ts'

let home: Home
let archive: Archive
let folder: string

beforeEach(async () => {
  home = makeHome()
  archive = await home.archive()
  folder = home.path('backup')
  await addSmallJob(archive, plainJob)
  await addSmallJob(archive, { ...plainJob, job: 'S-2', recordings: [{ file: 'a.csv', bytes: Buffer.from('1') }] })
})
afterEach(() => home.end())

/** Records one more recording in a job. */
async function grow(to: Archive, job: string, file: string): Promise<void> {
  const { count } = got(await to.end(job))
  got(await to.append(job, count, [await keptIn(to, { file, bytes: Buffer.from(file) })]))
}

const listed = async () => {
  const list = got(await readList(folder))
  if (list === undefined) throw new Error('no list')
  return list
}

const aFile = async (): Promise<string> => originalPath(folder, (await listed()).originals[0]?.sha256 ?? '')

/** Changes what lies under a name that is read-only. */
function spoil(path: string, text: string): void {
  const bytes = readFileSync(path)
  rmSync(path)
  writeFileSync(path, Buffer.concat([Buffer.from(text), bytes.subarray(text.length)]))
}

async function restored(name: string): Promise<Archive> {
  got(await restoreInto(folder, home.path(`${name}/archive`)))
  return home.archive(`${name}/archive`)
}

describe('a backup', () => {
  it('can be restored: the same jobs, heads, documents, originals', async () => {
    expect(got(await backUp(archive, folder))).toMatchObject({ copied: 3, there: 0 })
    const other = await restored('new-home')
    expect(got(await other.jobs())).toEqual(got(await archive.jobs()))
    for (const { id } of got(await archive.jobs())) {
      expect(got(await other.entries(id))).toEqual(got(await archive.entries(id)))
      expect(got(await checkJob(other, id, {})).intact.holds).toBe(true)
    }
    await grow(other, 'S-2', 'it can be written.csv')
  })

  it('done again copies only what is new, and keeps one database', async () => {
    got(await backUp(archive, folder))
    await grow(archive, 'S-2', 'b.csv')
    expect(got(await backUp(archive, folder))).toMatchObject({ copied: 1, there: 3 })
    expect(readdirSync(join(folder, 'databases'))).toHaveLength(1)
    expect(readdirSync(folder).sort()).toEqual(['READ-ME-FIRST.txt', 'backup.json', 'databases', 'originals'])
  })

  it('mends an original that has changed in it', async () => {
    got(await backUp(archive, folder))
    spoil(await aFile(), '?')
    expect(got(await backUp(archive, folder))).toMatchObject({ copied: 1, there: 2 })
    await restored('new-home')
  })

  it('is not made of an archive that is not sound', async () => {
    got(await backUp(archive, folder))
    const before = readFileSync(join(folder, 'backup.json'), 'utf8')
    spoil(archive.originalPath((await listed()).originals[0]?.sha256 ?? ''), '?')
    expect(codeOf(await backUp(archive, folder))).toBe('bundle/record-not-whole')
    expect(readFileSync(join(folder, 'backup.json'), 'utf8')).toBe(before)
  })

  it('is not overwritten by another archive, or by one that has lost entries', async () => {
    got(await backUp(archive, folder))
    const other = await home.archive('other')
    expect(codeOf(await backUp(other, folder))).toBe('bundle/backup-differs')
    expect(codeOf(await drill(other, folder))).toBe('bundle/backup-differs')
  })

  it('is not written among other things, nor where it can not be', async () => {
    home.written('file', Buffer.from('x'))
    expect(codeOf(await backUp(archive, home.folder))).toBe('bundle/folder-not-empty')
    expect(codeOf(await backUp(archive, home.path('file')))).toBe('bundle/unwritable-file')
  })

  it('stopped at any step is the former one, whole', async () => {
    got(await backUp(archive, folder))
    const [was] = [await listed()]
    await grow(archive, 'S-2', 'c.csv')
    for (let at = 0; ; at++) {
      const { files, steps } = failingAt(at)
      const made = await backUp(archive, folder, { files })
      if (steps.length <= at) {
        got(made)
        break
      }
      const place = home.path(`restored-${at}/archive`)
      got(await restoreInto(folder, place))
      const copy = got(await openArchive(place))
      const jobs = got(await copy.jobs())
      await copy.close()
      expect([was.jobs, got(await archive.jobs())]).toContainEqual(jobs)
    }
  })

  it('ended by Ctrl-C is the former one', async () => {
    got(await backUp(archive, folder))
    const before = readFileSync(join(folder, 'backup.json'), 'utf8')
    await grow(archive, 'S-2', 'd.csv')
    await expect(backUp(archive, folder, { signal: AbortSignal.abort() })).rejects.toThrow('abort')
    expect(readFileSync(join(folder, 'backup.json'), 'utf8')).toBe(before)
  })
})

describe('the registers', () => {
  const three = invent('C. Three', 'III')
  const probe: RegisterRow = {
    ...{ register: 'probe', version: 1, serial: 'P-1', type: 'differential' },
    coil: { width_mm: 1.5, frequency_kHz: { least: 100, most: 1000 } }
  }

  async function register(draft: Parameters<typeof shopEntry>[1], row: RegisterRow): Promise<void> {
    got(await archive.storeDocument(row.register, row))
    const rows = got(await archive.entries(shopChain))
    got(await archive.appendShop(rows.length, [shopEntry(three, draft, rows)]))
  }
  const opening = () => register({ kind: 'shop-opened', name: three.row.name, document: three.document }, three.row)

  it('are backed up, restored and compared as the jobs are', async () => {
    await opening()
    got(await backUp(archive, folder))
    expect(got(await drill(archive, folder)).shop).toMatchObject({ standing: 'the same', theirs: { count: 1 } })
    const document = sha256(canonical(probe))
    await register({ kind: 'registered', what: 'probe', name: 'P-1', document }, probe)
    expect(got(await drill(archive, folder)).shop).toMatchObject({ standing: 'theirs is older', common: 1 })
    const other = await restored('new-home')
    expect(got(await checkShop(other))).toEqual([])
    expect(got(await other.entries(shopChain))).toEqual(got(await archive.entries(shopChain)).slice(0, 1))
  })

  it('that lack what the backup has do not overwrite it', async () => {
    await opening()
    got(await backUp(archive, folder))
    const other = await home.archive('other')
    await addSmallJob(other, plainJob)
    expect(codeOf(await backUp(other, folder))).toBe('bundle/backup-differs')
  })
})

describe('restoring', () => {
  it('is refused without a backup, and into a folder that holds anything', async () => {
    expect(codeOf(await restoreInto(home.path('nowhere'), home.path('new/archive')))).toBe('bundle/no-backup')
    got(await backUp(archive, folder))
    expect(codeOf(await restoreInto(folder, home.path('archive')))).toBe('bundle/folder-not-empty')
    await restored('new-home')
    expect(codeOf(await restoreInto(folder, home.path('new-home/archive')))).toBe('bundle/folder-not-empty')
  })

  it('finds every file that is missing or has changed, and leaves nothing', async () => {
    got(await backUp(archive, folder))
    const { database, originals } = await listed()
    const paths = [
      join(folder, 'databases', `${database.sha256}.db`),
      ...originals.filter(({ bytes }) => bytes > 0).map(({ sha256 }) => originalPath(folder, sha256))
    ]
    for (const path of paths) {
      const bytes = readFileSync(path)
      spoil(path, '?')
      expect(codeOf(await restoreInto(folder, home.path('new/archive')))).toBe('bundle/spoiled-backup')
      rmSync(path)
      expect(codeOf(await restoreInto(folder, home.path('new/archive')))).toBe('bundle/spoiled-backup')
      writeFileSync(path, bytes)
    }
    expect(existsSync(home.path('new/archive'))).toBe(false)
    expect(readdirSync(home.path('new'))).toEqual([])
  })

  it('believes no list that says otherwise than the files', async () => {
    got(await backUp(archive, folder))
    const path = join(folder, 'backup.json')
    const text = readFileSync(path, 'utf8')
    const [first] = got(await archive.jobs())
    for (const other of ['{}', 'no list', text.replace(first?.head ?? '', 'f'.repeat(64))]) {
      rmSync(path)
      writeFileSync(path, other)
      expect(codeOf(await restoreInto(folder, home.path('new/archive')))).toBe('bundle/spoiled-backup')
    }
  })

  it('stopped at any step leaves no archive, and can be done again', async () => {
    got(await backUp(archive, folder))
    for (let at = 0; ; at++) {
      const { files, steps } = failingAt(at)
      const place = home.path('new/archive')
      const made = await restoreInto(folder, place, { files })
      if (steps.length <= at) break
      if (isRefusal(made)) expect(made.code).toBe('bundle/unwritable-file')
      const isThere = existsSync(place)
      if (isThere) expect(steps.at(-1)).toMatch(/syncFolder|remove/)
      rmSync(place, { recursive: true, force: true })
    }
  })
})

describe('a drill', () => {
  it('says what can be restored, and what is not in the backup yet', async () => {
    got(await backUp(archive, folder))
    const same = got(await drill(archive, folder))
    expect(same.compared.map(({ standing }) => standing)).toEqual(['the same', 'the same'])
    expect(same.notInBackup).toEqual([])
    await grow(archive, 'S-2', 'e.csv')
    await addSmallJob(archive, { ...plainJob, job: 'S-3' })
    const later = got(await drill(archive, folder))
    expect(later.compared.map(({ standing }) => standing)).toEqual(['the same', 'theirs is older'])
    expect(later.notInBackup).toEqual(['S-3'])
  })

  it('fails where the backup does', async () => {
    got(await backUp(archive, folder))
    rmSync(await aFile())
    expect(codeOf(await drill(archive, folder))).toBe('bundle/spoiled-backup')
  })
})
