import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { append, beginning, type Chain, type Entry, type EntryRow, type Code as RecordCode } from '@trueloop/job/record'
import type { Kysely, Transaction } from 'kysely'
import { sha256 } from '../hash/index.ts'
import type { Tables } from './tables.ts'

/** A job as the archive lists it. `count` and `head` are kept beside the chain, for `verify`. */
export interface JobEnd {
  readonly id: string
  readonly count: number
  readonly head: string
}

export interface Appending {
  readonly job: string
  readonly expectedSeq: number
  readonly entries: readonly Entry[]
}

/** Appends in one transaction: all or none. The rows of all entries asked for come back, old ones too. */
export const appendEntries = (
  db: Kysely<Tables>,
  appending: Appending
): Promise<Result<readonly EntryRow[], RecordCode>> =>
  db.transaction().execute(async (step) => {
    const chain = await chainIn(step, appending)
    const appended = append(chain, appending, sha256)
    if (isRefusal(appended)) return appended
    if (appended.fresh.length > 0) await write(step, appending.job, appended.fresh)
    return appended.rows
  })

/** What the rule asks of the record so far: its end, and the few old entries that the new ones may name. */
async function chainIn(step: Transaction<Tables>, { job, entries }: Appending): Promise<Chain> {
  const end = await step.selectFrom('job').selectAll().where('id', '=', job).executeTakeFirst()
  const last = await step
    .selectFrom('entry')
    .selectAll()
    .where('job', '=', job)
    .orderBy('seq', 'desc')
    .limit(1)
    .executeTakeFirst()
  const named = new Map<string, EntryRow>()
  for (const id of entries.flatMap((entry) => (entry.kind === 'corrected' ? [entry.id, entry.corrects] : [entry.id]))) {
    const row = await step
      .selectFrom('entry')
      .selectAll()
      .where('job', '=', job)
      .where('id', '=', id)
      .executeTakeFirst()
    if (row !== undefined) named.set(id, rowOf(row))
  }
  return {
    job,
    count: end?.count ?? 0,
    last: last === undefined ? undefined : rowOf(last),
    byId: (id) => named.get(id)
  }
}

const rowOf = ({ seq, id, kind, version, body, previous, hash }: Tables['entry']): EntryRow => ({
  ...{ seq, id, kind, version, body, previous, hash }
})

async function write(step: Transaction<Tables>, job: string, fresh: readonly EntryRow[]): Promise<void> {
  const { seq, hash } = fresh.at(-1) as EntryRow
  const end = { count: seq + 1, head: hash }
  await step
    .insertInto('job')
    .values({ id: job, ...end })
    .onConflict((conflict) => conflict.column('id').doUpdateSet(end))
    .execute()
  for (const row of fresh)
    await step
      .insertInto('entry')
      .values({ job, ...row })
      .execute()
}

export async function entriesOf(db: Kysely<Tables>, job: string): Promise<readonly EntryRow[]> {
  const rows = await db.selectFrom('entry').selectAll().where('job', '=', job).orderBy('seq').execute()
  return rows.map(rowOf)
}

export const jobsIn = (db: Kysely<Tables>): Promise<readonly JobEnd[]> =>
  db.selectFrom('job').selectAll().orderBy('id').execute()

/** The end of a job's chain as the archive keeps it; of a job it does not know, the beginning. */
export async function endOf(db: Kysely<Tables>, job: string): Promise<JobEnd> {
  const end = await db.selectFrom('job').selectAll().where('id', '=', job).executeTakeFirst()
  return end ?? { id: job, count: 0, head: beginning }
}
