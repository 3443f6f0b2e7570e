import { execFileSync } from 'node:child_process'
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, truncateSync, writeFileSync } from 'node:fs'
import { mkdtemp, rm } from 'node:fs/promises'
import { hostname, tmpdir } from 'node:os'
import { join } from 'node:path'
import { isRefusal, type Refusal } from '@trueloop/ground/refusal'
import { beginning, chainHash } from '@trueloop/job/record'
import { kept, opened } from '@trueloop/job/record/testing'
import Database from 'libsql'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { sha256 } from '../hash/index.ts'
import { type Archive, openArchive } from './index.ts'

let folder = ''
const open: Archive[] = []

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'trueloop-archive-'))
})
afterEach(async () => {
  for (const archive of open.splice(0)) await archive.close()
  await rm(folder, { recursive: true, force: true })
})

const good = <T>(value: T | Refusal): T => {
  if (isRefusal(value)) throw new Error(`${value.code}: ${value.found}`)
  return value
}
const codeOf = (value: unknown) => (isRefusal(value) ? value.code : 'no refusal')

async function opening(place = folder): Promise<Archive> {
  const archive = good(await openArchive(place))
  open.push(archive)
  return archive
}

async function* stream(...texts: readonly string[]): AsyncGenerator<Uint8Array> {
  for (const text of texts) yield new TextEncoder().encode(text)
}

async function textFrom(bytes: AsyncIterable<Uint8Array>): Promise<string> {
  const parts: Uint8Array[] = []
  for await (const part of bytes) parts.push(part)
  return Buffer.concat(parts).toString('utf8')
}

describe('entries', () => {
  it('come back as they were appended, after closing too', async () => {
    const first = await opening()
    const entries = [opened('J-1', ['1']), kept('a', { of: 'reference' })]
    const rows = good(await first.append('J-1', 0, entries))
    expect(rows.map(({ seq, kind }) => [seq, kind])).toEqual([
      [0, 'job-opened'],
      [1, 'recording-kept']
    ])
    expect(rows[0]?.previous).toBe(beginning)
    await open.pop()?.close()
    const again = await opening()
    expect(good(await again.entries('J-1'))).toEqual(rows)
    expect(good(await again.jobs())).toEqual([{ id: 'J-1', count: 2, head: rows[1]?.hash }])
    expect(good(await again.end('J-2'))).toEqual({ id: 'J-2', count: 0, head: beginning })
  })

  it('sent twice are no doubles, however much has come since', async () => {
    const archive = await opening()
    const first = [opened('J-1', ['1']), kept('a', { of: 'reference' })]
    const rows = good(await archive.append('J-1', 0, first))
    good(await archive.append('J-1', 2, [kept('b', { of: 'recheck' })]))
    expect(good(await archive.append('J-1', 0, first))).toEqual(rows)
    expect(good(await archive.entries('J-1'))).toHaveLength(3)
  })

  it('of a client that has not seen the latest are refused, all of them', async () => {
    const archive = await opening()
    good(await archive.append('J-1', 0, [opened('J-1', ['1'])]))
    const late = await archive.append('J-1', 0, [kept('a', { of: 'reference' }), kept('b', { of: 'recheck' })])
    expect(codeOf(late)).toBe('record/sequence-taken')
    expect(good(await archive.entries('J-1'))).toHaveLength(1)
  })

  it('of many callers at once follow each other', async () => {
    const archive = await opening()
    good(await archive.append('J-1', 0, [opened('J-1', ['1'])]))
    const names = ['a', 'b', 'c', 'd']
    const results = await Promise.all(names.map((name) => archive.append('J-1', 1, [kept(name, { of: 'recheck' })])))
    expect(results.map(codeOf).sort()).toEqual(['no refusal', ...Array(3).fill('record/sequence-taken')])
  })
})

describe('documents', () => {
  it('are named by the hash of their canonical text, whatever the order of members', async () => {
    const archive = await opening()
    const name = good(await archive.storeDocument('technique', { b: 1, a: [true] }))
    expect(name).toBe(sha256('{"a":[true],"b":1}'))
    expect(good(await archive.storeDocument('technique', { a: [true], b: 1 }))).toBe(name)
    expect(good(await archive.document(name))).toEqual({ hash: name, kind: 'technique', text: '{"a":[true],"b":1}' })
  })
  it('that are not there are refused', async () => {
    const archive = await opening()
    expect(codeOf(await archive.document(sha256('nothing')))).toBe('archive/no-document')
    expect(good(await archive.documentText(sha256('nothing')))).toBeUndefined()
  })
})

describe('originals', () => {
  it('lie as plain files whose name is what sha256sum prints', async () => {
    const archive = await opening()
    const { sha256: name, bytes, already } = good(await archive.keepOriginal(stream('x,y\n', '1,2\n')))
    expect({ name, bytes, already }).toEqual({ name: sha256('x,y\n1,2\n'), bytes: 8, already: false })
    const path = join(folder, 'originals', name.slice(0, 2), name)
    expect(archive.originalPath(name)).toBe(path)
    expect(readFileSync(path, 'utf8')).toBe('x,y\n1,2\n')
    expect(execFileSync('sha256sum', [path], { encoding: 'utf8' }).slice(0, 64)).toBe(name)
    expect(await textFrom(good(await archive.readOriginal(name)))).toBe('x,y\n1,2\n')
    expect(good(await archive.hashOfOriginal(name))).toBe(name)
  })

  it('of the same content are kept once, and that is said', async () => {
    const archive = await opening()
    const file = join(folder, 'one.csv')
    writeFileSync(file, 'same')
    good(await archive.keepOriginal(file))
    expect(good(await archive.keepOriginal(stream('sa', 'me')))).toEqual({
      sha256: sha256('same'),
      bytes: 4,
      already: true
    })
    expect(readdirSync(join(folder, 'originals', 'unfinished'))).toEqual([])
  })

  it('may be empty', async () => {
    const archive = await opening()
    expect(good(await archive.keepOriginal(stream())).sha256).toBe(sha256(''))
  })

  it('that are not there are refused, whatever the name', async () => {
    const archive = await opening()
    expect(codeOf(await archive.readOriginal(sha256('nothing')))).toBe('archive/no-original')
    expect(codeOf(await archive.readOriginal('../../archive.db'))).toBe('archive/no-original')
    expect(good(await archive.hashOfOriginal(sha256('nothing')))).toBeUndefined()
  })

  it('that can not be read to the end leave nothing', async () => {
    const archive = await opening()
    async function* broken() {
      yield new Uint8Array(10)
      throw new Error('cable out')
    }
    expect(codeOf(await archive.keepOriginal(broken()))).toBe('archive/unreadable-source')
    expect(codeOf(await archive.keepOriginal(join(folder, 'no such file')))).toBe('archive/unreadable-source')
    expect(readdirSync(join(folder, 'originals'))).toEqual(['unfinished'])
    expect(readdirSync(join(folder, 'originals', 'unfinished'))).toEqual([])
  })

  it('of another length under the same name are not overwritten', async () => {
    const archive = await opening()
    const { sha256: name } = good(await archive.keepOriginal(stream('whole')))
    const path = archive.originalPath(name)
    await rm(path)
    writeFileSync(path, 'who')
    expect(codeOf(await archive.keepOriginal(stream('whole')))).toBe('archive/damaged')
    expect(readFileSync(path, 'utf8')).toBe('who')
  })
})

describe('opening', () => {
  it('a second time at once is refused, naming who holds it, and works after closing', async () => {
    const first = await opening()
    const second = await openArchive(folder)
    expect(isRefusal(second) && second).toMatchObject({
      code: 'archive/locked',
      found: `the archive in use by process ${process.pid} on this computer`
    })
    good(await first.storeDocument('x', { still: 'works' }))
    open.pop()
    await first.close()
    await opening()
  })

  it('is refused while another computer is named as the holder', async () => {
    await (await opening()).close()
    open.pop()
    writeFileSync(join(folder, 'archive.lock'), JSON.stringify({ pid: 1, host: `not-${hostname()}` }))
    expect(codeOf(await openArchive(folder))).toBe('archive/locked')
  })

  it('does not mind a lock file that a killed program left', async () => {
    writeFileSync(join(folder, 'archive.lock'), JSON.stringify({ pid: 1, host: hostname() }))
    await opening()
  })

  it('sweeps what a killed program left unfinished', async () => {
    mkdirSync(join(folder, 'originals', 'unfinished'), { recursive: true })
    writeFileSync(join(folder, 'originals', 'unfinished', 'half'), 'ha')
    await opening()
    expect(readdirSync(join(folder, 'originals', 'unfinished'))).toEqual([])
  })

  it('refuses a folder that can not be', async () => {
    writeFileSync(join(folder, 'file'), '')
    expect(codeOf(await openArchive(join(folder, 'file', 'archive')))).toBe('archive/unreachable')
  })

  it('leaves one database file when it is closed', async () => {
    const archive = await opening()
    good(await archive.storeDocument('x', { a: 1 }))
    await open.pop()?.close()
    expect(existsSync(join(folder, 'archive.lock'))).toBe(false)
    const copy = new Database(join(folder, 'archive.db'))
    expect(copy.prepare('select count(*) as count from document').get()).toMatchObject({ count: 1 })
    copy.close()
  })
})

describe('a damaged archive', () => {
  const database = () => join(folder, 'archive.db')
  const spoil = async (step: (db: Database.Database) => void) => {
    await (await opening()).close()
    open.pop()
    const db = new Database(database())
    step(db)
    db.close()
  }

  it('is no database at all', async () => {
    writeFileSync(database(), 'no database '.repeat(1000))
    expect(codeOf(await openArchive(folder))).toBe('archive/damaged')
  })

  it('is one in another form', async () => {
    await spoil((db) => db.exec('pragma user_version = 2'))
    const no = await openArchive(folder)
    expect(isRefusal(no) && [no.code, no.found]).toEqual([
      'archive/damaged',
      'an archive in form 2, where this program knows form 1'
    ])
  })

  it("is somebody else's", async () => {
    await spoil((db) => db.exec('pragma application_id = 7'))
    expect(codeOf(await openArchive(folder))).toBe('archive/damaged')
  })

  it('has lost its end', async () => {
    const archive = await opening()
    for (let at = 0; at < 40; at++) good(await archive.storeDocument('x', { text: 'x'.repeat(3000), at }))
    await open.pop()?.close()
    truncateSync(database(), 60_000)
    expect(codeOf(await openArchive(folder))).toBe('archive/damaged')
  })

  it('has a document that is not what its name says', async () => {
    const name = sha256('{"a":1}')
    await spoil((db) => db.prepare('insert into document values (?, ?, ?)').run(name, 'x', '{"a":2}'))
    const archive = await opening()
    expect(codeOf(await archive.document(name))).toBe('archive/damaged')
    expect(good(await archive.documentText(name))).toBe('{"a":2}')
  })

  // the driver ends the whole process on such a text when it is read as text
  it.each([
    ['a byte that is no UTF-8', "body = cast(x'7b22ff' as text)"],
    ['nothing where a text stood', "hash = ''"],
    ['another text', "body = replace(body, ':', ';')"]
  ])('has an entry with %s: refused, and shown as it lies to verify', async (_, change) => {
    const archive = await opening()
    good(await archive.append('J', 0, [opened('J', ['W-01'])]))
    await open.pop()?.close()
    const db = new Database(database())
    db.exec(`update entry set ${change}`)
    db.close()
    const again = await opening()
    expect(codeOf(await again.entries('J'))).toBe('archive/damaged')
    const [row] = good(await again.entriesAsTheyLie('J'))
    expect(row?.hash).not.toBe(row && chainHash(sha256, row))
  })

  it('has a document that is no UTF-8', async () => {
    const name = sha256('{}')
    await spoil((db) => db.exec(`insert into document values ('${name}', 'x', cast(x'7bff7d' as text))`))
    const archive = await opening()
    expect(codeOf(await archive.document(name))).toBe('archive/damaged')
    expect(good(await archive.documentText(name))).toBe('{\ufffd}')
  })

  it('has originals and no database: no fresh one is made beside them', async () => {
    const archive = await opening()
    good(await archive.keepOriginal(stream('bytes')))
    await open.pop()?.close()
    rmSync(database())
    expect(codeOf(await openArchive(folder))).toBe('archive/damaged')
    writeFileSync(database(), '')
    expect(codeOf(await openArchive(folder))).toBe('archive/damaged')
  })
})
