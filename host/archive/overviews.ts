import { type Kysely, sql } from 'kysely'
import { textFrom } from './bytes.ts'
import type { JobEnd } from './entries.ts'
import type { Tables } from './tables.ts'

/**
 * What somebody made of the entries of a job, so that it need not be made anew for every look. It is kept under the end
 * of the chain that it was made of: of a record that has grown since, there is none. Derived; may be dropped at any time.
 */
export interface Overview {
  /** number of the form of both texts; raised by who makes them */
  readonly form: number
  /** the few lines of a list of jobs */
  readonly brief: string
  readonly whole: string
}

export interface JobBrief {
  readonly job: string
  /** undefined where it has to be made */
  readonly brief: string | undefined
}

/** No part of the form of an archive: one that lacks the table gets it. */
export async function makeOverviews(db: Kysely<Tables>): Promise<void> {
  await db.schema
    .createTable('overview')
    .ifNotExists()
    .addColumn('job', 'text', (column) => column.primaryKey().notNull())
    .addColumn('form', 'integer', (column) => column.notNull())
    .addColumn('count', 'integer', (column) => column.notNull())
    .addColumn('head', 'text', (column) => column.notNull())
    .addColumn('brief', 'text', (column) => column.notNull())
    .addColumn('whole', 'text', (column) => column.notNull())
    .execute()
}

export async function keepOverview(db: Kysely<Tables>, end: JobEnd, overview: Overview): Promise<undefined> {
  const { id: job, count, head } = end
  const row = { count, head, ...overview }
  await db
    .insertInto('overview')
    .values({ job, ...row })
    .onConflict((conflict) => conflict.column('job').doUpdateSet(row))
    .execute()
}

export async function dropOverview(db: Kysely<Tables>, job: string): Promise<undefined> {
  await db.deleteFrom('overview').where('job', '=', job).execute()
}

/** The whole one, where it is of the record as it stands now. */
export async function overviewIn(db: Kysely<Tables>, job: string, form: number): Promise<string | undefined> {
  const { rows } = await sql<{ whole: Uint8Array }>`
    select cast(overview.whole as blob) as whole from overview
    join job on job.id = overview.job and job.count = overview.count and job.head = overview.head
    where overview.job = ${job} and overview.form = ${form}`.execute(db)
  return rows[0] === undefined ? undefined : textFrom(rows[0].whole)
}

/** One for every job, the record of the shop left out. */
export async function briefsIn(db: Kysely<Tables>, shop: string, form: number): Promise<readonly JobBrief[]> {
  const { rows } = await sql<{ job: Uint8Array; brief: Uint8Array | null }>`
    select cast(job.id as blob) as job, cast(overview.brief as blob) as brief from job
    left join overview on job.id = overview.job and job.count = overview.count and job.head = overview.head
      and overview.form = ${form}
    where job.id != ${shop} order by job.id`.execute(db)
  return rows.map(({ job, brief }) => ({ job: textFrom(job), brief: brief === null ? undefined : textFrom(brief) }))
}
