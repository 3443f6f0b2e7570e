import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { Kysely, SqliteDialect, sql } from 'kysely'
import Database from 'libsql'
import type { Code } from './codes.ts'
import { makeOverviews } from './overviews.ts'
import { diskWrites, type Writes, watched } from './statements.ts'
import { applicationId, formVersion, makeTables, type Tables } from './tables.ts'
import { damaged, guarded } from './trouble.ts'

interface Way {
  readonly writes?: Writes
  /** nothing has touched the file since it was closed soundly */
  readonly known?: boolean
}

/**
 * Opens the database file for this program alone: the operating system's own lock, which ends with the process, so that
 * a program that was killed locks nobody out. Every commit is on the disk before it returns.
 * Refuses `archive/locked`, `archive/damaged` (no database, another form, broken pages), `archive/unreachable`,
 * `archive/disk-full`.
 */
export async function openDatabase(
  path: string,
  { writes = diskWrites, known = false }: Way = {}
): Promise<Result<Kysely<Tables>, Code>> {
  const opened = await guarded(path, async () => new Database(path, { timeout: 0 }))
  if (isRefusal(opened)) return opened
  const db = new Kysely<Tables>({ dialect: new SqliteDialect({ database: watched(opened, writes) }) })
  const form = await guarded(path, () => look(db, path, known))
  if (isRefusal(form)) await release(db)
  if (isRefusal(form)) return form
  const ready = await guarded(path, () => prepare(db, form))
  if (ready === undefined) return db
  await closeDatabase(db)
  return ready
}

/**
 * Brings everything into the one database file, so that a copy of it is whole, and lets go of the lock. The driver keeps
 * a closed file open until its statements are collected, so the lock is given up by name first.
 */
export async function closeDatabase(db: Kysely<Tables>): Promise<void> {
  try {
    await sql`pragma journal_mode = delete`.execute(db)
  } catch {
    // what does not fit stays in the log beside the file, as sound as before
  }
  await release(db)
}

/**
 * Copies the database as it is at this moment into a new file, which must not be there yet: SQLite's own way, while this
 * program holds it.
 */
export async function copyInto(db: Kysely<Tables>, path: string): Promise<undefined> {
  await sql`vacuum into ${path}`.execute(db)
}

async function release(db: Kysely<Tables>): Promise<void> {
  try {
    await sql`pragma locking_mode = normal`.execute(db)
    await sql`select count(*) from sqlite_master`.execute(db)
  } catch {
    // a file that can not be read has no lock of ours
  }
  await db.destroy()
}

/** Looks before anything is written: a file that is refused stays as it was. */
async function look(db: Kysely<Tables>, path: string, known: boolean): Promise<Result<Form, Code>> {
  await sql`pragma locking_mode = exclusive`.execute(db)
  await sql`begin immediate`.execute(db)
  await sql`rollback`.execute(db)
  const broken = known ? undefined : await brokenPage(db, path)
  if (broken !== undefined) return broken
  const form = await formOf(db)
  return formComplaint(form, path) ?? form
}

/** Looks at every page of the file. */
export async function brokenPage(db: Kysely<Tables>, path: string): Promise<Refusal<Code> | undefined> {
  const pages = await sql<{ quick_check: string }>`pragma quick_check(1)`.execute(db)
  const verdict = pages.rows[0]?.quick_check
  return verdict === 'ok' ? undefined : damaged(path, `a database with a broken page: ${verdict ?? 'no answer'}`)
}

async function prepare(db: Kysely<Tables>, form: Form): Promise<undefined> {
  await sql`pragma journal_mode = wal`.execute(db)
  await sql`pragma synchronous = full`.execute(db)
  await sql`pragma foreign_keys = on`.execute(db)
  if (form.isEmpty) await makeTables(db)
  await makeOverviews(db)
}

interface Form {
  readonly owner: number
  readonly form: number
  readonly isEmpty: boolean
}

async function formOf(db: Kysely<Tables>): Promise<Form> {
  const owner = await numberOf(db, 'application_id')
  const form = await numberOf(db, 'user_version')
  const { rows } = await sql<{ count: number }>`select count(*) as count from sqlite_master`.execute(db)
  return { owner, form, isEmpty: owner === 0 && form === 0 && rows[0]?.count === 0 }
}

function formComplaint({ owner, form, isEmpty }: Form, path: string): Refusal<Code> | undefined {
  if (isEmpty) return undefined
  if (owner !== applicationId) return damaged(path, `a database of another kind (${owner})`)
  const known = `where this program knows form ${formVersion}`
  return form === formVersion ? undefined : damaged(path, `an archive in form ${form}, ${known}`)
}

async function numberOf(db: Kysely<Tables>, name: 'application_id' | 'user_version'): Promise<number> {
  const { rows } = await sql<Record<string, number>>`pragma ${sql.raw(name)}`.execute(db)
  return rows[0]?.[name] ?? 0
}
