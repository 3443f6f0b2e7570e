import { copyFileSync, cpSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { isRefusal } from '@trueloop/ground/refusal'
import { beginning, chainHash, type EntryRow } from '@trueloop/job/record'
import * as fc from 'fast-check'
import Database from 'libsql'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { openArchive } from '../archive/index.ts'
import { sha256 } from '../hash/index.ts'
import { checkJob } from './index.ts'
import { demoJob } from './testing/demo-job.ts'
import { got } from './testing/laws.ts'
import { examineOneHole, oneHole, oneHoleSheet } from './testing/one-hole.ts'

/**
 * One really examined hole in an archive, tampered with behind its back: by SQL, in the bytes of the database file, in the
 * originals. Oracle: what was changed, and where, is known to the test; rows are read back by SQLite alone.
 */

const job = oneHoleSheet().job.id
const minutes = 60_000
let home = ''
let sound = ''
let folder = ''
const database = () => join(folder, 'archive.db')

beforeAll(async () => {
  home = mkdtempSync(join(tmpdir(), 'trueloop-tampered-'))
  sound = join(home, 'sound')
  folder = join(home, 'archive')
  demoJob(home, oneHole)
  const archive = got(await openArchive(sound))
  expect(await examineOneHole({ recordings: home, archive })).toEqual([])
  await archive.close()
  cpSync(sound, folder, { recursive: true })
}, minutes)
afterAll(() => rmSync(home, { recursive: true, force: true }))

/** A new file each time: the driver may still hold the one before. */
function freshDatabase(): void {
  rmSync(database(), { force: true })
  copyFileSync(join(sound, 'archive.db'), database())
}

/** Places of what verify finds; an archive that is refused as damaged names its database file. */
async function placesFound(): Promise<readonly string[]> {
  const archive = await openArchive(folder)
  if (isRefusal(archive)) return [archive.code]
  const verdict = await checkJob(archive, job, {})
  await archive.close()
  return isRefusal(verdict) ? [verdict.code] : verdict.intact.faults.map(({ place }) => place)
}

const bySql = (work: (db: Database.Database) => void): void => {
  freshDatabase()
  const db = new Database(database())
  db.exec('pragma foreign_keys = off')
  work(db)
  db.close()
}

const soundRows = (): readonly EntryRow[] => {
  const db = new Database(join(sound, 'archive.db'))
  const rows = db.prepare('select seq, id, kind, version, body, previous, hash from entry order by seq').all()
  db.close()
  return rows as EntryRow[]
}

/** Another text of the same length: one character, somewhere, is another. */
const otherAt = (text: string, at: number, change: number): string => {
  const index = at % text.length
  const code = text.charCodeAt(index)
  return text.slice(0, index) + String.fromCharCode(code ^ (1 + (change % 15))) + text.slice(index + 1)
}

const anywhere = fc.nat({ max: 1 << 20 })
const runs = { numRuns: 60, seed: 20260314 }

describe('untouched', () => {
  it('it is intact', async () => {
    freshDatabase()
    expect(await placesFound()).toEqual([])
  })
})

describe('one character changed by SQL is found at its place', () => {
  it.each(['body', 'hash', 'previous', 'kind', 'id'] as const)('in the %s of any entry', async (column) => {
    const rows = soundRows()
    const property = fc.asyncProperty(fc.nat({ max: rows.length - 1 }), anywhere, anywhere, async (seq, at, change) => {
      const other = otherAt(rows[seq]?.[column] ?? '', at, change)
      bySql((db) => db.prepare(`update entry set ${column} = ? where seq = ?`).run([other, seq]))
      expect(await placesFound()).toContainEqual(expect.stringContaining(`entry ${seq}`))
    })
    await fc.assert(property, { ...runs, numRuns: 25 })
  })

  it('in any document', async () => {
    const named = soundRows()
      .map(({ body }) => body)
      .join(' ')
    const db = new Database(join(sound, 'archive.db'))
    const all = db.prepare('select hash, body from document').all() as { hash: string; body: string }[]
    db.close()
    expect(all.filter(({ hash }) => !named.includes(hash))).toEqual([])
    const property = fc.asyncProperty(
      fc.constantFrom(...all),
      anywhere,
      anywhere,
      async ({ hash, body }, at, change) => {
        bySql((to) => to.prepare('update document set body = ? where hash = ?').run([otherAt(body, at, change), hash]))
        expect(await placesFound()).toContainEqual(expect.stringContaining(`document ${hash}`))
      }
    )
    await fc.assert(property, { ...runs, numRuns: 25 })
  })

  it('in what is kept of the end of the chain', async () => {
    bySql((db) => db.exec('update job set count = count - 1'))
    expect(await placesFound()).toHaveLength(1)
    bySql((db) => db.prepare('update job set head = ?').run(['0'.repeat(64)]))
    expect(await placesFound()).toHaveLength(1)
  })
})

/** The same entries as a chain whose numbers and hashes are right again. */
function rechained(rows: readonly EntryRow[]): readonly EntryRow[] {
  const made: EntryRow[] = []
  for (const [seq, row] of rows.entries()) {
    const place = { seq, previous: made.at(-1)?.hash ?? beginning, body: row.body }
    made.push({ ...row, ...place, hash: chainHash(sha256, place) })
  }
  return made
}

function written(rows: readonly EntryRow[]): void {
  bySql((db) => {
    db.exec('delete from entry')
    const insert = db.prepare('insert into entry values (?, ?, ?, ?, ?, ?, ?, ?)')
    for (const { seq, id, kind, version, body, previous, hash } of rows)
      insert.run([job, seq, id, kind, version, body, previous, hash])
  })
}

describe('entries', () => {
  const numbered = (rows: readonly EntryRow[]) => rows.map((row, seq) => ({ ...row, seq }))
  const extra = (rows: readonly EntryRow[]): EntryRow => {
    const last = rows.at(-1) as EntryRow
    const body = last.body.replace(last.id, `${last.id}-more`)
    return { ...last, seq: rows.length, id: `${last.id}-more`, body }
  }
  const ways: readonly [string, (rows: readonly EntryRow[], at: number) => readonly EntryRow[]][] = [
    ['removed', (rows, at) => rows.filter((_, index) => index !== at)],
    ['removed, the others numbered anew', (rows, at) => numbered(rows.filter((_, index) => index !== at))],
    ['removed, all hashes made anew', (rows, at) => rechained(rows.filter((_, index) => index !== at))],
    ['moved, all hashes made anew', (rows, at) => rechained(moved(rows, at))],
    ['moved', (rows, at) => numbered(moved(rows, at))],
    ['appended', (rows) => [...rows, extra(rows)]],
    ['appended with its right hash', (rows) => rechained([...rows, extra(rows)])]
  ]
  const moved = (rows: readonly EntryRow[], at: number) =>
    rows.filter((_, index) => index !== at).toSpliced((at + 1) % rows.length, 0, rows[at] as EntryRow)

  it.each(ways)('%s are found, each of them, at an entry', async (_, change) => {
    const rows = soundRows()
    for (const at of rows.keys()) {
      written(change(rows, at))
      expect(await placesFound()).toContainEqual(expect.stringContaining('entry '))
    }
  })

  it('changed in one, with all hashes and the kept end made anew, show against the printed report alone', async () => {
    const rows = soundRows()
    const forged = rechained(rows.map((row) => ({ ...row, body: row.body.replace('P02', 'P03') })))
    written(forged)
    const db = new Database(database())
    db.prepare('update job set head = ?').run([forged.at(-1)?.hash])
    db.close()
    const archive = got(await openArchive(folder))
    const printed = { count: rows.length, head: rows.at(-1)?.hash ?? '' }
    const verdict = got(await checkJob(archive, job, { printed }))
    await archive.close()
    expect(verdict.intact.faults.map(({ place }) => place)).toContain(`entry ${rows.length - 1}`)
  })
})

describe('one byte changed', () => {
  /** All that can be read from the database, by SQLite alone; undefined where it can not be read. */
  function readable(path: string): string | undefined {
    const db = new Database(path)
    try {
      const all = ['job', 'entry', 'document'].map((name) =>
        db.prepare(`select * from ${name} order by 1, 2`).raw().all()
      )
      return JSON.stringify(all)
    } catch {
      return undefined
    } finally {
      db.close()
    }
  }

  it(
    'anywhere in the database file is found, or every row reads back as it was',
    async () => {
      const bytes = readFileSync(join(sound, 'archive.db'))
      const before = readable(join(sound, 'archive.db'))
      expect(before).toContain(job)
      const seen = { found: 0, nothing: 0 }
      const property = fc.asyncProperty(
        fc.nat({ max: bytes.length - 1 }),
        fc.integer({ min: 1, max: 255 }),
        async (at, change) => {
          rmSync(database(), { force: true })
          const changed = Buffer.from(bytes)
          changed[at] = (bytes[at] ?? 0) ^ change
          writeFileSync(database(), changed)
          const places = await placesFound()
          if (places.length > 0) return void seen.found++
          seen.nothing++
          writeFileSync(join(home, 'looked-at.db'), changed)
          expect(readable(join(home, 'looked-at.db'))).toBe(before)
        }
      )
      await fc.assert(property, { seed: runs.seed, numRuns: 150 })
      expect(Math.min(seen.found, seen.nothing)).toBeGreaterThan(0)
    },
    3 * minutes
  )

  it('anywhere in an original is found, with its name', async () => {
    freshDatabase()
    const named = soundRows()
      .filter(({ kind }) => kind === 'recording-kept')
      .map(({ body }) => JSON.parse(body).sha256)
    const property = fc.asyncProperty(
      fc.constantFrom<string>(...named),
      anywhere,
      fc.integer({ min: 1, max: 255 }),
      async (name, at, change) => {
        const path = join(folder, 'originals', name.slice(0, 2), name)
        const bytes = readFileSync(path)
        const changed = Buffer.from(bytes)
        const index = at % statSync(path).size
        changed[index] = (bytes[index] ?? 0) ^ change
        rmSync(path)
        writeFileSync(path, changed)
        const places = await placesFound()
        writeFileSync(path, bytes)
        expect(places).toEqual([expect.stringContaining(`original ${name}`)])
      }
    )
    await fc.assert(property, { ...runs, numRuns: 20 })
  })
})
