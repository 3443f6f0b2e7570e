import { open, rename, rm } from 'node:fs/promises'
import { join } from 'node:path'
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { shopChain } from '@trueloop/job/plan'
import { type Archive, diskFiles, type Files, type JobEnd, openArchive } from '../../archive/index.ts'
import { now } from '../../clock/index.ts'
import { refuse } from '../codes.ts'
import { type Measured, measure } from '../measure.ts'
import { namedBy } from '../named.ts'
import { troubleOf, writeWhole } from '../whole-file.ts'
import { type ChainFault, type Ends, endsOf, firstFault } from './chains.ts'
import { copyOriginals } from './copies.ts'
import {
  type BackupList,
  databasePath,
  databases,
  folderComplaint,
  listName,
  listText,
  namesIn,
  readList,
  readMeName,
  unfinished
} from './list.ts'
import { readMe } from './read-me.ts'
import { recordsDiffer } from './records.ts'

export interface BackingUp {
  readonly signal?: AbortSignal
  readonly tell?: (text: string) => void
  /** for tests: a step of file work that fails */
  readonly files?: Files
}

export interface BackedUp {
  readonly jobs: readonly JobEnd[]
  /** how many originals were copied now, and how many were there and sound */
  readonly copied: number
  readonly there: number
  /** of database and originals together */
  readonly bytes: number
}

/**
 * Brings a backup up to the archive: originals that are not there yet, then a copy of the database, then the list, which
 * makes both count. All is read again after it was written. Stopped at any step, the folder holds the backup that it
 * held before. An archive that is not sound, or not the one that was backed up there, does not touch a good backup.
 * Refuses bundle/record-not-whole, bundle/backup-differs, bundle/folder-not-empty, bundle/spoiled-backup,
 * bundle/unwritable-file, and what the archive refuses.
 */
export async function backUp(archive: Archive, folder: string, how: BackingUp = {}): Promise<Result<BackedUp>> {
  try {
    return await backUpTo(archive, folder, how)
  } catch (error) {
    return troubleOf(error, folder)
  }
}

async function backUpTo(archive: Archive, folder: string, how: BackingUp): Promise<Result<BackedUp>> {
  const ends = await endsOf(archive)
  if (isRefusal(ends)) return ends
  const { jobs } = ends
  const no = (await folderComplaint(folder)) ?? (await differs(archive, folder)) ?? (await notSound(archive, ends, how))
  if (no !== undefined) return no
  const hashes = await originalsOf(archive, jobs)
  if (isRefusal(hashes)) return hashes
  const files = how.files ?? diskFiles
  const originals = await copyOriginals(archive, { ...how, files, folder, hashes })
  if (isRefusal(originals)) return originals
  const database = await copyDatabase(archive, folder, files)
  if (isRefusal(database)) return database
  how.signal?.throwIfAborted()
  const { sha256, bytes } = database
  const list: BackupList = {
    ...{ trueloop: 'backup-list/1', made: now(), ...ends, database: { sha256, bytes } },
    originals: originals.all.map((one) => ({ sha256: one.sha256, bytes: one.bytes }))
  }
  const written = await writeLists(files, folder, list)
  if (isRefusal(written)) return written
  const sum = originals.all.reduce((total, one) => total + one.bytes, bytes)
  return { jobs, copied: originals.copied, there: originals.all.length - originals.copied, bytes: sum }
}

/** A good backup is not overwritten by an archive that has lost what the backup has. */
async function differs(archive: Archive, folder: string): Promise<Refusal | undefined> {
  const list = await readList(folder)
  if (list === undefined || isRefusal(list)) return list
  for (const { id, count, head } of [...list.jobs, { id: shopChain, ...list.shop }]) {
    const rows = await archive.entries(id)
    if (isRefusal(rows)) return rows
    const there = count === 0 ? head : rows[count - 1]?.hash
    if (there !== head) return backupDiffers(folder, `${chainName(id)} with the head ${count}:${head}`)
  }
  return undefined
}

async function notSound(archive: Archive, ends: Ends, how: BackingUp): Promise<Refusal | undefined> {
  const fault = await firstFault(archive, ends, how)
  return fault === undefined || isRefusal(fault) ? fault : notWhole(fault)
}

async function originalsOf(archive: Archive, jobs: readonly JobEnd[]): Promise<Result<readonly string[]>> {
  const hashes = new Set<string>()
  for (const { id } of jobs) {
    const rows = await archive.entries(id)
    if (isRefusal(rows)) return rows
    for (const hash of namedBy(rows).originals.keys()) hashes.add(hash)
  }
  return [...hashes].sort()
}

/** Copied beside, opened and compared with the living one row by row, and put under the name of its hash. */
async function copyDatabase(archive: Archive, folder: string, files: Files): Promise<Result<Measured>> {
  const beside = join(folder, unfinished)
  const path = join(beside, 'archive.db')
  await rm(beside, { recursive: true, force: true })
  try {
    await files.makeFolder(beside)
    const copied = await archive.copyDatabase(path)
    if (isRefusal(copied)) return copied
    const differ = await comparedCopy(archive, beside)
    if (isRefusal(differ)) return differ
    await syncFile(path)
    const measured = await measure(files.read(path))
    await files.makeFolder(join(folder, databases))
    await rename(path, databasePath(folder, measured.sha256))
    await files.syncFolder(join(folder, databases))
    return measured
  } finally {
    await rm(beside, { recursive: true, force: true })
  }
}

async function comparedCopy(archive: Archive, beside: string): Promise<Refusal | undefined> {
  const copy = await openArchive(beside)
  if (isRefusal(copy)) return copy
  const differ = await recordsDiffer(archive, copy)
  await copy.close()
  return differ
}

async function syncFile(path: string): Promise<void> {
  const file = await open(path, 'r+')
  await file.sync()
  await file.close()
}

/** The list last: only then the new copies count, and the database before them may go. */
async function writeLists(files: Files, folder: string, list: BackupList): Promise<Result<undefined>> {
  const texts = [
    [readMeName, readMe],
    [listName, listText(list)]
  ] as const
  for (const [name, text] of texts) {
    const path = join(folder, name)
    const no = await writeWhole({ files, path }, async (sink) => sink.write(Buffer.from(text, 'utf8')))
    if (isRefusal(no)) return no
  }
  for (const name of await namesIn(join(folder, databases)))
    if (name !== `${list.database.sha256}.db`) await rm(join(folder, databases, name), { force: true })
  return undefined
}

const notWhole = ({ chain, found, needed }: ChainFault) =>
  refuse('bundle/record-not-whole', {
    found: `${chain}: ${found}`,
    needed,
    remedy: 'keep the last backup as it is; restore from it what is damaged, then back up again'
  })

export const chainName = (id: string): string => (id === shopChain ? 'registers' : `job "${id}"`)

export const backupDiffers = (folder: string, found: string) =>
  refuse('bundle/backup-differs', {
    found: `a backup of ${found}, which this archive does not have so`,
    needed: 'a backup that is the beginning of this archive',
    remedy: 'look which of the two holds before either is touched; back this archive up into another folder',
    where: { file: folder }
  })
