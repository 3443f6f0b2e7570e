import { createHash } from 'node:crypto'
import { existsSync, readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import type { EntryRow } from '@trueloop/job/record'
import { type Archive, openArchive } from '../../archive/index.ts'
import { checkJob } from '../check.ts'

/** What holds of an archive whose program was stopped at any moment. Each law that is broken is a sentence. */

export const got = <T>(result: Result<T>): T => {
  if (isRefusal(result)) throw new Error(`${result.code}: ${result.found}`)
  return result as T
}

/** Files under the originals whose name is not the hash of their bytes. */
export function falseNames(archive: string): readonly string[] {
  const place = join(archive, 'originals')
  if (!existsSync(place)) return []
  return readdirSync(place, { recursive: true, withFileTypes: true })
    .filter((one) => one.isFile() && one.name !== hashOf(join(one.parentPath, one.name)))
    .map(({ name }) => name)
}

const hashOf = (path: string): string => createHash('sha256').update(readFileSync(path)).digest('hex')

/** Lines as `stopped` says them: "entries HASH …", "document HASH", "original HASH". */
export async function lostOf(archive: Archive, job: string, told: readonly string[]): Promise<readonly string[]> {
  const rows = got(await archive.entriesAsTheyLie(job))
  const named = (what: string) =>
    told.filter((line) => line.startsWith(`${what} `)).flatMap((line) => line.split(' ').slice(1))
  const entries = named('entries')
  const lost = entries.filter((hash, at) => rows[at]?.hash !== hash).map((hash) => `entry ${hash} is lost`)
  for (const hash of named('document'))
    if (isRefusal(await archive.document(hash))) lost.push(`document ${hash} is lost`)
  for (const name of named('original'))
    if ((await archive.hashOfOriginal(name)) !== name) lost.push(`original ${name} is lost`)
  return lost
}

/** The record is the beginning of the whole one up to the end of one of its appends, and intact. */
export async function halfOf(archive: Archive, job: string, whole: Whole): Promise<readonly string[]> {
  const rows = got(await archive.entriesAsTheyLie(job))
  const half = whole.ends.includes(rows.length) ? [] : [`${rows.length} entries: no end of an append`]
  if (JSON.stringify(rows) !== JSON.stringify(whole.rows.slice(0, rows.length))) half.push('other entries')
  const { intact } = got(await checkJob(archive, job, {}))
  return [...half, ...intact.faults.map(({ place, found }) => `${place}: ${found}`), ...falseNames(archive.folder)]
}

/** The record of a run that nobody disturbed. */
export interface Whole {
  readonly rows: readonly EntryRow[]
  /** numbers of entries after each append, 0 among them */
  readonly ends: readonly number[]
}

export function wholeOf(rows: readonly EntryRow[], told: readonly string[]): Whole {
  const appended = told.filter((line) => line.startsWith('entries ')).map((line) => line.split(' ').length - 1)
  const ends = [0]
  for (const count of appended) ends.push((ends.at(-1) ?? 0) + count)
  return { rows, ends }
}

/** Opens an archive for some work. */
export async function withArchive<T>(folder: string, work: (archive: Archive) => Promise<T>): Promise<T> {
  const archive = got(await openArchive(join(folder, 'archive')))
  try {
    return await work(archive)
  } finally {
    await archive.close()
  }
}

/** Laws that are broken where an archive is opened again after a stop, and after the run has gone on to its end. */
export const afterStop = (place: Stopped, told: readonly string[]): Promise<readonly string[]> =>
  withArchive(place.folder, async (archive) => {
    const { job, whole } = place
    const before = [...(await lostOf(archive, job, told)), ...(await halfOf(archive, job, whole))]
    const refusals = await place.goOn(archive)
    const { count } = got(await archive.end(job))
    const less = count === whole.rows.length ? [] : [`${count} entries after all`]
    return [...before, ...refusals.map(({ code }) => code), ...(await halfOf(archive, job, whole)), ...less]
  })

export interface Stopped {
  readonly folder: string
  readonly job: string
  readonly whole: Whole
  readonly goOn: (archive: Archive) => Promise<readonly Refusal[]>
}
