import { randomUUID } from 'node:crypto'
import { join } from 'node:path'
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { shopChain } from '@trueloop/job/plan'
import type { Entry, EntryRow, Code as RecordCode, ShopCode, ShopEntry } from '@trueloop/job/record'
import type { Kysely } from 'kysely'
import { sha256Of } from '../hash/index.ts'
import type { Code } from './codes.ts'
import { brokenPage, closeDatabase, copyInto, openDatabase } from './database.ts'
import { load, type StoredDocument, store, textOf } from './documents.ts'
import { appendEntries, endOf, entriesOf, type JobEnd, jobsIn, type Remembered, soundEntriesOf } from './entries.ts'
import { diskFiles, type Files } from './files.ts'
import { holderOf, holderText, isElsewhere, letGo, takeHold } from './holder.ts'
import { type Kept, keep, type Originals, originalPath, readKept, sweep } from './originals.ts'
import { briefsIn, dropOverview, type JobBrief, keepOverview, type Overview, overviewIn } from './overviews.ts'
import { appendShopEntries } from './shop.ts'
import { diskWrites, type Writes } from './statements.ts'
import type { Tables } from './tables.ts'
import { damaged, guarded, locked } from './trouble.ts'
import { forgetClosing, isUntouched, noteClosing } from './untouched.ts'

/**
 * Where entries, documents and original recordings are kept. What a call has returned outlives a killed program and a
 * power cut; what it has refused has left nothing half behind. One program at a time.
 */
export interface Archive {
  readonly folder: string
  /** Appends in one transaction; an entry that is there already is given back. Codes of `record`, and the archive's. */
  append(
    job: string,
    expectedSeq: number,
    entries: readonly Entry[]
  ): Promise<Result<readonly EntryRow[], RecordCode | Code>>
  /** The same for the shop's own record; it is read as the jobs are, under the name `shopChain`. */
  appendShop(
    expectedSeq: number,
    entries: readonly ShopEntry[]
  ): Promise<Result<readonly EntryRow[], RecordCode | ShopCode | Code>>
  /** The same for entries that were written in another archive, over states that this one need not have had before. */
  takeIn(
    job: string,
    expectedSeq: number,
    entries: readonly Entry[]
  ): Promise<Result<readonly EntryRow[], RecordCode | Code>>
  /** Refuses `archive/damaged` where the chain is not whole. */
  entries(job: string): Promise<Result<readonly EntryRow[], Code>>
  /** the rows as they lie there, sound or not: for `verify` */
  entriesAsTheyLie(job: string): Promise<Result<readonly EntryRow[], Code>>
  jobs(): Promise<Result<readonly JobEnd[], Code>>
  /** how the chain of a job ends, as kept beside the chain */
  end(job: string): Promise<Result<JobEnd, Code>>
  /** Stores a JSON value under the hash of its canonical text. */
  storeDocument(kind: string, value: unknown): Promise<Result<string, Code>>
  document(hash: string): Promise<Result<StoredDocument, Code>>
  /** the text of a document as it lies there, sound or not; undefined where there is none: for `verify` */
  documentText(hash: string): Promise<Result<string | undefined, Code>>
  /** Keeps a file (by path) or a stream unchanged. */
  keepOriginal(source: string | AsyncIterable<Uint8Array>): Promise<Result<Kept, Code>>
  readOriginal(sha256: string): Promise<Result<AsyncIterable<Uint8Array>, Code>>
  /** hash of the bytes that lie under this name now; undefined where nothing lies: for `verify` */
  hashOfOriginal(sha256: string): Promise<Result<string | undefined, Code>>
  originalPath(sha256: string): string
  /** An overview of a job in a form, where one was kept of the record as it stands now. Derived, see `Overview`. */
  overview(job: string, form: number): Promise<Result<string | undefined, Code>>
  /** the short ones of all jobs */
  briefs(form: number): Promise<Result<readonly JobBrief[], Code>>
  keepOverview(end: JobEnd, overview: Overview): Promise<Result<undefined, Code>>
  dropOverview(job: string): Promise<Result<undefined, Code>>
  /** Looks at every page of the database: `archive/damaged` where one is broken. For `verify`. */
  checkPages(): Promise<Result<undefined, Code>>
  /** Copies entries and documents as they are at this moment into a new database file: for a backup. */
  copyDatabase(path: string): Promise<Result<undefined, Code>>
  close(): Promise<void>
}

export interface Opening {
  /** for tests: a step of the work on files or on the database that fails */
  readonly files?: Files
  readonly writes?: Writes
  /** this program lets go again within a moment: others may wait for it */
  readonly brief?: boolean
  /** what this program knows of its jobs already */
  readonly memory?: Remembered
}

/**
 * Opens the archive in a folder, and makes it where there is none.
 * Refuses `archive/locked`, `archive/damaged`, `archive/unreachable`, `archive/disk-full`.
 */
export async function openArchive(
  folder: string,
  { files = diskFiles, writes = diskWrites, brief = false, memory }: Opening = {}
): Promise<Result<Archive, Code>> {
  const originals: Originals = { folder: join(folder, 'originals'), files, freshName: randomUUID }
  const made = await guarded(folder, () => files.makeFolder(originals.folder))
  if (isRefusal(made)) return made
  const before = await holderOf(folder)
  if (isElsewhere(before)) return locked(folder, holderText(before))
  const lost = await guarded(folder, () => databaseLost(folder, originals))
  if (lost !== undefined) return lost
  const known = await isUntouched(folder)
  const db = await openDatabase(join(folder, 'archive.db'), { writes, known })
  if (isRefusal(db)) return named(db, folder, before === undefined ? undefined : holderText(before))
  const ready = await guarded(folder, () => settleIn(folder, originals, brief))
  if (ready === undefined) return archiveOf({ folder, db, originals, memory })
  await closeDatabase(db)
  return ready
}

/** Originals without a database are no fresh archive: opening one there would say that nothing was ever recorded. */
async function databaseLost(folder: string, { files, ...originals }: Originals): Promise<Refusal<Code> | undefined> {
  const path = join(folder, 'archive.db')
  const sizes = [await files.size(path), await files.size(`${path}-wal`)]
  if (sizes.some((size) => (size ?? 0) > 0)) return undefined
  const shelves = (await files.list(originals.folder)).filter((name) => /^[0-9a-f]{2}$/.test(name))
  return shelves.length === 0 ? undefined : damaged(path, 'originals, and no database that says what they are')
}

const named = (no: Refusal<Code>, folder: string, holder: string | undefined): Refusal<Code> =>
  no.code === 'archive/locked' ? locked(folder, holder ?? 'another program') : no

async function settleIn(folder: string, originals: Originals, brief: boolean): Promise<undefined> {
  await takeHold(folder, brief)
  await forgetClosing(folder)
  await sweep(originals)
  await originals.files.syncFolder(folder)
}

interface Ready {
  readonly folder: string
  readonly db: Kysely<Tables>
  readonly originals: Originals
  readonly memory: Remembered | undefined
}

function archiveOf({ folder, db, originals, memory }: Ready): Archive {
  const path = join(folder, 'archive.db')
  return {
    folder,
    append: (job, expectedSeq, entries) =>
      guarded(path, () => appendEntries(db, { job, expectedSeq, entries, memory })),
    appendShop: (expectedSeq, entries) => guarded(path, () => appendShopEntries(db, { expectedSeq, entries })),
    takeIn: (job, expectedSeq, entries) =>
      guarded(path, () => appendEntries(db, { job, expectedSeq, entries, elsewhere: true })),
    entries: (job) => guarded(path, () => soundEntriesOf(db, job)),
    entriesAsTheyLie: (job) => guarded(path, () => entriesOf(db, job)),
    jobs: () => guarded(path, () => jobsIn(db)),
    end: (job) => guarded(path, () => endOf(db, job)),
    storeDocument: (kind, value) => guarded(path, () => store(db, kind, value)),
    document: (hash) => guarded(path, () => load(db, hash)),
    documentText: (hash) => guarded(path, () => textOf(db, hash)),
    keepOriginal: (source) => keep(originals, typeof source === 'string' ? originals.files.read(source) : source),
    readOriginal: (sha256) => readKept(originals, sha256),
    hashOfOriginal: (sha256) => hashKept(originals, sha256),
    originalPath: (sha256) => originalPath(originals.folder, sha256),
    overview: (job, form) => guarded(path, () => overviewIn(db, job, form)),
    briefs: (form) => guarded(path, () => briefsIn(db, shopChain, form)),
    keepOverview: (end, overview) => guarded(path, () => keepOverview(db, end, overview)),
    dropOverview: (job) => guarded(path, () => dropOverview(db, job)),
    checkPages: () => guarded(path, () => brokenPage(db, path)),
    copyDatabase: (to) => guarded(to, () => copyInto(db, to)),
    close: async () => {
      await closeDatabase(db)
      await noteClosing(folder)
      await letGo(folder)
    }
  }
}

async function hashKept(originals: Originals, sha256: string): Promise<Result<string | undefined, Code>> {
  const bytes = await readKept(originals, sha256)
  if (isRefusal(bytes)) return bytes.code === 'archive/no-original' ? undefined : bytes
  return guarded(originalPath(originals.folder, sha256), () => sha256Of(bytes))
}
