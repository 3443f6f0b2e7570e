import { type ChildProcess, spawn, spawnSync } from 'node:child_process'
import { createHash } from 'node:crypto'
import { mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { createInterface } from 'node:readline'
import { isRefusal, type Refusal } from '@trueloop/ground/refusal'
import { verify } from '@trueloop/job/record'
import { kept, opened } from '@trueloop/job/record/testing'
import { build } from 'esbuild'
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import { cloneRoot } from '../../house/outside.ts'
import { sha256 } from '../hash/index.ts'
import { diskFiles } from './files.ts'
import { type Archive, openArchive } from './index.ts'
import { keep, type Originals } from './originals.ts'
import { failingAt } from './testing/failing.ts'
import { trouble } from './trouble.ts'

let folder = ''
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'trueloop-faults-'))
})
afterEach(() => rm(folder, { recursive: true, force: true }))

const good = <T>(value: T | Refusal): T => {
  if (isRefusal(value)) throw new Error(`${value.code}: ${value.found}`)
  return value
}
const codeOf = (value: unknown) => (isRefusal(value) ? value.code : 'no refusal')

async function* pieces(): AsyncGenerator<Uint8Array> {
  for (let at = 0; at < 3; at++) yield new Uint8Array(1000).fill(65 + at)
}
const name = sha256('A'.repeat(1000) + 'B'.repeat(1000) + 'C'.repeat(1000))

/** All files under the originals, with the hash of their bytes. */
const filesUnder = (place: string): readonly { name: string; hash: string }[] =>
  readdirSync(place, { recursive: true, withFileTypes: true })
    .filter((one) => one.isFile())
    .map((one) => ({
      name: one.name,
      hash: createHash('sha256')
        .update(readFileSync(join(one.parentPath, one.name)))
        .digest('hex')
    }))

describe('a full disk while an original is kept', () => {
  const originals = (files: Originals['files']): Originals => ({ folder, files, freshName: () => 'fresh' })
  const keeping = async (at: number) => {
    const { files, steps } = failingAt(at)
    const result = await keep(originals(files), pieces())
    return { result, steps }
  }

  it('takes these steps, each synced before the next relies on it', async () => {
    const { result, steps } = await keeping(-1)
    expect(good(result)).toEqual({ sha256: name, bytes: 3000, already: false })
    expect(steps).toEqual([
      ...['makeFolder', 'create', 'write', 'write', 'write', 'sync'],
      ...['makeFolder', 'rename', 'syncFolder']
    ])
  })

  it.each([0, 1, 2, 3, 4, 5, 6, 7, 8])(
    'at step %d: refused, nothing half there, and it works afterwards',
    async (at) => {
      const { result } = await keeping(at)
      expect(codeOf(result)).toBe('archive/disk-full')
      // the name of a file is the hash of its bytes, so half a file can't have one
      expect(filesUnder(folder).filter((one) => one.name !== one.hash)).toEqual([])
      const again = await keep(originals(diskFiles), pieces())
      expect(good(again)).toMatchObject({ sha256: name, bytes: 3000 })
      expect(filesUnder(folder)).toEqual([{ name, hash: name }])
    }
  )

  it('that can not even remove what it began is swept by the next opening', async () => {
    const { files } = failingAt(5)
    const stuck = { ...files, remove: () => Promise.reject(new Error('no')) }
    expect(codeOf(await keep({ ...originals(stuck), folder: join(folder, 'originals') }, pieces()))).toBe(
      'archive/disk-full'
    )
    expect(filesUnder(join(folder, 'originals'))).toHaveLength(1)
    const archive = good(await openArchive(folder))
    expect(filesUnder(join(folder, 'originals'))).toEqual([])
    await archive.close()
  })

  it('while the archive is opened is a refusal too', async () => {
    const steps = ['makeFolder', 'makeFolder', 'syncFolder']
    for (const at of steps.keys()) {
      expect(codeOf(await openArchive(folder, { files: failingAt(at).files }))).toBe('archive/disk-full')
    }
    const archive = good(await openArchive(folder))
    await archive.close()
  })
})

describe('trouble', () => {
  it.each([
    ['ENOSPC', 'archive/disk-full'],
    ['EDQUOT', 'archive/disk-full'],
    ['SQLITE_FULL', 'archive/disk-full'],
    ['SQLITE_BUSY', 'archive/locked'],
    ['SQLITE_CORRUPT', 'archive/damaged'],
    ['SQLITE_NOTADB', 'archive/damaged'],
    ['SQLITE_IOERR_READ', 'archive/unreachable'],
    ['EACCES', 'archive/unreachable']
  ])('%s is %s, in three parts and with its place', (code, expected) => {
    const no = trouble(Object.assign(new Error('as the system says it'), { code }), 'archive.db')
    expect(no.code).toBe(expected)
    for (const part of [no.found, no.needed, no.remedy, no.where?.file]) expect(part).toMatch(/\w/)
  })
  it('that nobody knows is thrown on', () => expect(() => trouble(new TypeError('ours'), 'x')).toThrow('ours'))
})

/** A file system of one megabyte, where this user may mount one. */
function smallDisk(): string | undefined {
  const place = join(folder, 'small')
  mkdirSync(place)
  const { status } = spawnSync('mount', ['-t', 'tmpfs', '-o', 'size=1m', 'tmpfs', place], { stdio: 'ignore' })
  return status === 0 ? place : undefined
}

describe('a disk that is really full', () => {
  it('loses nothing acknowledged and leaves nothing half', async (context) => {
    const place = smallDisk()
    if (place === undefined) return context.skip('no right to mount a small file system')
    try {
      await fillAndFree(place)
    } finally {
      // lazily: the driver lets go of a closed file only when its statements are collected
      spawnSync('umount', ['-l', place])
    }
  })

  async function fillAndFree(place: string): Promise<void> {
    const archive = good(await openArchive(join(place, 'archive')))
    good(await archive.append('J', 0, [opened('J', ['1'])]))
    const ballast = fill(place)
    const codes: string[] = []
    let count = 1
    for (let round = 0; round < 60; round++) {
      const result = await archive.append('J', count, [
        kept(`a${round}`, { of: 'recheck' }),
        kept(`b${round}`, { of: 'recheck' })
      ])
      codes.push(codeOf(result))
      if (!isRefusal(result)) count += 2
      if (isRefusal(result)) rmSync(ballast.pop() ?? '', { force: true })
      expect(good(await archive.entries('J'))).toHaveLength(count)
    }
    expect(new Set(codes)).toEqual(new Set(['archive/disk-full', 'no refusal']))
    for (const path of ballast) rmSync(path)
    await archive.close()
    const again = good(await openArchive(join(place, 'archive')))
    await expectIntact(again, 'J', count)
    await again.close()
  }

  /** Fills the disk; gives the pieces that can be taken away again. */
  function fill(place: string): string[] {
    const made: string[] = []
    for (;;) {
      const path = join(place, `ballast-${made.length}`)
      try {
        writeFileSync(path, new Uint8Array(4096))
        made.push(path)
      } catch {
        rmSync(path, { force: true })
        return made
      }
    }
  }
})

async function expectIntact(archive: Archive, job: string, least: number): Promise<void> {
  const rows = good(await archive.entries(job))
  expect(rows.length).toBeGreaterThanOrEqual(least)
  const { intact } = await verify({
    rows,
    hash: sha256,
    kept: good(await archive.end(job)),
    // these invented entries name no real originals: the chain alone is looked at
    original: async (one) => one,
    document: async () => undefined
  })
  expect(intact.faults.filter(({ place }) => !place.startsWith('document '))).toEqual([])
}

describe('a program killed while it writes', () => {
  const bundle = join(cloneRoot, 'build', 'testing', `archive-child-${process.pid}.mjs`)
  beforeAll(() =>
    build({
      entryPoints: [join(cloneRoot, 'host/archive/testing/child.ts')],
      outfile: bundle,
      bundle: true,
      platform: 'node',
      format: 'esm',
      external: ['libsql', 'kysely', 'zod'],
      logLevel: 'silent'
    })
  )
  afterAll(() => rmSync(bundle, { force: true }))

  /** Ids and originals that the program has been told are safe, until it is killed after `lines` of them. */
  async function runAndKill(job: string, lines: number): Promise<readonly string[]> {
    const child = spawn(process.execPath, [bundle, folder, job], { stdio: ['ignore', 'pipe', 'inherit'] })
    const told: string[] = []
    for await (const line of createInterface({ input: child.stdout })) {
      told.push(line)
      if (told.length === lines) child.kill('SIGKILL')
    }
    await ended(child)
    return told
  }

  const ended = (child: ChildProcess) =>
    new Promise<void>((resolve) => {
      if (child.exitCode !== null || child.signalCode !== null) resolve()
      else child.once('exit', () => resolve())
    })

  it('holds the archive as long as it lives', async () => {
    const child = spawn(process.execPath, [bundle, folder, 'J'], { stdio: ['ignore', 'pipe', 'inherit'] })
    for await (const _first of createInterface({ input: child.stdout })) break
    const no = await openArchive(folder)
    child.kill('SIGKILL')
    await ended(child)
    expect(isRefusal(no) && [no.code, no.found]).toEqual([
      'archive/locked',
      `the archive in use by process ${child.pid} on this computer`
    ])
    await good(await openArchive(folder)).close()
  })

  it('has lost nothing that was acknowledged, left nothing half, and locks nobody out', async () => {
    let random = 20260314
    for (let time = 0; time < 10; time++) {
      random = (Math.imul(random, 1664525) + 1013904223) >>> 0
      const job = `J-${time}`
      const told = await runAndKill(job, 2 + ((random >>> 8) % 12))
      const archive = good(await openArchive(folder))
      const ids = told
        .filter((line) => line.startsWith('rows'))
        .flatMap((line) => [...line.matchAll(/"([^"]*)"/g)].map(([, id]) => id))
      const rows = good(await archive.entries(job))
      expect(rows.map(({ id }) => id).slice(0, ids.length)).toEqual(ids)
      expect(rows.length % 3).toBe(0)
      await expectIntact(archive, job, ids.length)
      const originals = told.filter((line) => line.startsWith('original')).map((line) => line.slice(9))
      for (const one of originals) expect(good(await archive.hashOfOriginal(one))).toBe(one)
      expect(readdirSync(join(folder, 'originals', 'unfinished'))).toEqual([])
      await archive.close()
    }
    expect(filesUnder(join(folder, 'originals')).filter((one) => one.name !== one.hash)).toEqual([])
  })
})
