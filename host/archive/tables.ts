import type { Kysely } from 'kysely'
import { sql } from 'kysely'

/** The tables. Text bodies are canonical JSON: the bytes that the hashes stand for. */
export interface Tables {
  job: JobRow
  entry: EntryTableRow
  document: DocumentRow
  overview: OverviewRow
}

/** `count` and `head` are what the archive knows of the end of the chain, beside the chain itself. */
export interface JobRow {
  readonly id: string
  readonly count: number
  readonly head: string
}

export interface EntryTableRow {
  readonly job: string
  readonly seq: number
  readonly id: string
  readonly kind: string
  readonly version: number
  readonly body: string
  readonly previous: string
  readonly hash: string
}

export interface DocumentRow {
  readonly hash: string
  readonly kind: string
  readonly body: string
}

/** Derived: see `overviews.ts`. */
export interface OverviewRow {
  readonly job: string
  readonly form: number
  readonly count: number
  readonly head: string
  readonly brief: string
  readonly whole: string
}

/** In the database file's own header: whose file it is, and in which form. */
export const applicationId = 0x54726c70
export const formVersion = 1

/** Makes the tables in one transaction, the mark of the form last. */
export async function makeTables(db: Kysely<Tables>): Promise<void> {
  await db.transaction().execute(async (step) => {
    const { schema } = step
    await schema
      .createTable('job')
      .addColumn('id', 'text', (column) => column.primaryKey().notNull())
      .addColumn('count', 'integer', (column) => column.notNull())
      .addColumn('head', 'text', (column) => column.notNull())
      .execute()
    await schema
      .createTable('entry')
      .addColumn('job', 'text', (column) => column.notNull().references('job.id'))
      .addColumn('seq', 'integer', (column) => column.notNull())
      .addColumn('id', 'text', (column) => column.notNull())
      .addColumn('kind', 'text', (column) => column.notNull())
      .addColumn('version', 'integer', (column) => column.notNull())
      .addColumn('body', 'text', (column) => column.notNull())
      .addColumn('previous', 'text', (column) => column.notNull())
      .addColumn('hash', 'text', (column) => column.notNull())
      .addPrimaryKeyConstraint('entry_in_its_place', ['job', 'seq'])
      .addUniqueConstraint('entry_once', ['job', 'id'])
      .execute()
    await schema
      .createTable('document')
      .addColumn('hash', 'text', (column) => column.primaryKey().notNull())
      .addColumn('kind', 'text', (column) => column.notNull())
      .addColumn('body', 'text', (column) => column.notNull())
      .execute()
    await sql.raw(`pragma application_id = ${applicationId}`).execute(step)
    await sql.raw(`pragma user_version = ${formVersion}`).execute(step)
  })
}
