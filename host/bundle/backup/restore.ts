import { chmod, rename, rm } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { canonical } from '@trueloop/job/record'
import { diskFiles, type Files, type JobEnd, openArchive } from '../../archive/index.ts'
import { measure } from '../measure.ts'
import { troubleOf, writeWhole } from '../whole-file.ts'
import { endsOf, firstFault } from './chains.ts'
import {
  type BackupList,
  databasePath,
  namesIn,
  noBackup,
  notEmpty,
  originalPath,
  readList,
  spoiledBackup
} from './list.ts'

export interface Restoring {
  readonly signal?: AbortSignal
  readonly tell?: (text: string) => void
  /** for tests: a step of file work that fails */
  readonly files?: Files
}

export interface Restored {
  readonly jobs: readonly JobEnd[]
  readonly originals: number
  readonly bytes: number
  /** when the backup was made */
  readonly made: BackupList['made']
}

const beside = (archive: string): string => `${archive}.unfinished`

/**
 * Puts a backup back as the archive of an empty data folder. It is copied beside, every file hashed, every job of it
 * verified; only then it appears under its name.
 * Refuses bundle/folder-not-empty, bundle/no-backup, bundle/spoiled-backup, bundle/unwritable-file, and what the archive
 * refuses.
 */
export async function restoreInto(folder: string, archive: string, how: Restoring = {}): Promise<Result<Restored>> {
  try {
    return (await targetComplaint(archive)) ?? (await restore(folder, archive, how))
  } catch (error) {
    return troubleOf(error, archive)
  }
}

/** What a stopped restore left is no content. */
async function targetComplaint(archive: string): Promise<Refusal | undefined> {
  const home = dirname(archive)
  const others = (await namesIn(home)).filter((name) => join(home, name) !== beside(archive))
  return others.length === 0 ? undefined : notEmpty(home, others)
}

async function restore(folder: string, archive: string, how: Restoring): Promise<Result<Restored>> {
  const list = await readList(folder)
  if (isRefusal(list)) return list
  if (list === undefined) return noBackup(folder)
  const made = beside(archive)
  await rm(made, { recursive: true, force: true })
  try {
    const no = (await copyAll(folder, list, { ...how, to: made })) ?? (await notAsListed(folder, list, made))
    if (no !== undefined) return no
    how.signal?.throwIfAborted()
    await rename(made, archive)
    await (how.files ?? diskFiles).syncFolder(dirname(archive))
  } finally {
    await rm(made, { recursive: true, force: true })
  }
  const bytes = list.originals.reduce((sum, one) => sum + one.bytes, list.database.bytes)
  return { jobs: list.jobs, originals: list.originals.length, bytes, made: list.made }
}

interface CopyingAll extends Restoring {
  readonly to: string
}

async function copyAll(folder: string, list: BackupList, { to, signal, tell, files = diskFiles }: CopyingAll) {
  const { database, originals } = list
  const pairs = [
    { hash: database.sha256, from: databasePath(folder, database.sha256), path: join(to, 'archive.db') },
    ...originals.map(({ sha256: hash }) => ({ hash, from: originalPath(folder, hash), path: originalPath(to, hash) }))
  ]
  for (const [at, { hash, from, path }] of pairs.entries()) {
    signal?.throwIfAborted()
    tell?.(`${at + 1} of ${pairs.length} files`)
    if ((await files.size(from)) === undefined) return spoiledBackup(folder, `no file ${from}`)
    const copied = await copyFile(files, from, path)
    if (isRefusal(copied)) return copied
    const found = await measure(files.read(path), signal)
    if (found.sha256 !== hash) return spoiledBackup(folder, `${from}, with bytes whose hash is ${found.sha256}`)
  }
  // originals stay read-only; the database is going to be written
  await chmod(join(to, 'archive.db'), 0o644)
  return undefined
}

const copyFile = (files: Files, from: string, path: string): Promise<Result<undefined>> =>
  writeWhole({ files, path }, async (sink) => {
    for await (const piece of files.read(from)) await sink.write(piece)
    return undefined
  })

async function notAsListed(folder: string, list: BackupList, made: string): Promise<Refusal | undefined> {
  const archive = await openArchive(made)
  if (isRefusal(archive)) return archive
  try {
    const ends = await endsOf(archive)
    if (isRefusal(ends)) return ends
    const { jobs, shop } = list
    if (canonical(ends) !== canonical({ jobs, shop })) return spoiledBackup(folder, 'other jobs or heads than it lists')
    const fault = await firstFault(archive, ends, {})
    if (isRefusal(fault)) return fault
    if (fault !== undefined) return spoiledBackup(folder, `${fault.chain}, ${fault.found}`)
    return undefined
  } finally {
    await archive.close()
  }
}
