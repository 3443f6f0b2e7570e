import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { shopChain } from '@trueloop/job/plan'
import {
  append,
  asksForAll,
  beginning,
  branchFrom,
  type Chain,
  chainHash,
  closingKinds,
  type Entry,
  type EntryRow,
  type JobState,
  type Code as RecordCode,
  signatureOf,
  type Witness
} from '@trueloop/job/record'
import type { Kysely, Transaction } from 'kysely'
import { sha256, signatureHolds } from '../hash/index.ts'
import { entryColumns, jobColumns, textFrom } from './bytes.ts'
import type { Code } from './codes.ts'
import { textOf } from './documents.ts'
import type { Tables } from './tables.ts'
import { damaged } from './trouble.ts'

/** A job as the archive lists it. `count` and `head` are kept beside the chain, for `verify`. */
export interface JobEnd {
  readonly id: string
  readonly count: number
  readonly head: string
}

/** What the program that has opened the archive knows of its jobs already, so that one entry more need not read them again. */
export interface Remembered {
  /** the sound rows of a job that ends so; undefined where they are not known */
  rows(end: JobEnd): readonly EntryRow[] | undefined
  /** says what `replay` of the record says */
  replay(rows: readonly EntryRow[]): JobState
}

export interface Appending {
  readonly job: string
  readonly expectedSeq: number
  readonly entries: readonly Entry[]
  /** see `Append` */
  readonly elsewhere?: boolean
  readonly memory?: Remembered | undefined
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
    if (appended.fresh.length > 0) await writeEntries(step, appending.job, appended.fresh)
    return appended.rows
  })

/** What the rule asks of the record so far: its end, and the few old entries that the new ones may name. */
async function chainIn(step: Transaction<Tables>, { job, entries, memory }: Appending): Promise<Chain> {
  const end = await step.selectFrom('job').select(jobColumns).where('id', '=', job).executeTakeFirst()
  const last = await step
    .selectFrom('entry')
    .select(entryColumns)
    .where('job', '=', job)
    .orderBy('seq', 'desc')
    .limit(1)
    .executeTakeFirst()
  const named = new Map<string, EntryRow>()
  for (const id of entries.flatMap((entry) => (entry.kind === 'corrected' ? [entry.id, entry.corrects] : [entry.id]))) {
    const row = await step
      .selectFrom('entry')
      .select(entryColumns)
      .where('job', '=', job)
      .where('id', '=', id)
      .executeTakeFirst()
    if (row !== undefined) named.set(id, rowOf(row))
  }
  const closing = await step
    .selectFrom('entry')
    .select(entryColumns)
    .where('job', '=', job)
    .where('kind', 'in', [...closingKinds])
    .orderBy('seq', 'desc')
    .limit(1)
    .executeTakeFirst()
  const known = end === undefined ? undefined : memory?.rows(endFrom(end))
  const rows = entries.some(asksForAll) ? (known ?? (await entriesOf(step, job))) : []
  return {
    job,
    rows: () => rows,
    closing: closing === undefined ? undefined : rowOf(closing),
    witness: await witnessOf(step, entries),
    count: end?.count ?? 0,
    last: last === undefined ? undefined : rowOf(last),
    byId: (id) => named.get(id),
    ...(memory === undefined ? {} : { replay: (all: readonly EntryRow[]) => memory.replay(all) })
  }
}

const documentsOf = (entry: Entry): readonly string[] => [
  ...[signatureOf(entry)?.person ?? []].flat(),
  ...(entry.kind === 'technique-confirmed' ? [entry.technique] : []),
  ...(entry.kind === 'practice-marked' ? [entry.answers] : [])
]

/** Documents that the rule asks for: of the people who sign these entries, and of what they approve. */
async function witnessOf(step: Transaction<Tables>, entries: readonly Entry[]): Promise<Witness> {
  const texts = new Map<string, string>()
  await addTexts(step, entries, texts)
  return { document: (hash) => texts.get(hash), holds: signatureHolds }
}

/** Of a merge the other chain too, and what its entries ask for. */
async function addTexts(step: Transaction<Tables>, entries: readonly Entry[], texts: Map<string, string>) {
  for (const entry of entries) {
    const chain = entry.kind === 'merged' ? [entry.theirs.rows] : []
    for (const name of [...documentsOf(entry), ...chain].filter((one) => !texts.has(one))) {
      const text = await textOf(step, name)
      if (text !== undefined) texts.set(name, text)
    }
    const rows = chain.flatMap((name) => branchFrom(texts.get(name)) ?? [])
    await addTexts(step, rows.map(entryOf), texts)
  }
}

const entryOf = ({ body }: EntryRow): Entry => JSON.parse(body) as Entry

type AsBytes<Row, Text extends keyof Row> = Omit<Row, Text> & Record<Text, Uint8Array | null>
type RawEntry = AsBytes<EntryRow, 'id' | 'kind' | 'body' | 'previous' | 'hash'>

const rowOf = ({ seq, id, kind, version, body, previous, hash }: RawEntry): EntryRow => ({
  ...{ seq, id: textFrom(id), kind: textFrom(kind), version },
  ...{ body: textFrom(body), previous: textFrom(previous), hash: textFrom(hash) }
})

/** Writes new rows and the end of their chain. */
export async function writeEntries(step: Transaction<Tables>, job: string, fresh: readonly EntryRow[]): Promise<void> {
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

/** The rows as they lie there, sound or not: for `verify`, which says what is wrong with them. */
export async function entriesOf(db: Kysely<Tables>, job: string): Promise<readonly EntryRow[]> {
  const rows = await db.selectFrom('entry').select(entryColumns).where('job', '=', job).orderBy('seq').execute()
  return rows.map(rowOf)
}

/** The same for everyone else. Refuses `archive/damaged` where an entry is not what its hash stands for. */
export async function soundEntriesOf(db: Kysely<Tables>, job: string): Promise<Result<readonly EntryRow[], Code>> {
  const rows = await entriesOf(db, job)
  const broken = rows.find((row, at) => {
    const previous = rows[at - 1]?.hash ?? beginning
    return row.seq !== at || row.previous !== previous || row.hash !== chainHash(sha256, row)
  })
  return broken === undefined ? rows : damaged(`job ${job}`, `entry ${broken.seq}, which is not as it was written`)
}

/** The jobs; the shop's own record is none. */
export async function jobsIn(db: Kysely<Tables>): Promise<readonly JobEnd[]> {
  const rows = await db.selectFrom('job').select(jobColumns).where('id', '!=', shopChain).orderBy('id').execute()
  return rows.map(endFrom)
}

const endFrom = ({ id, count, head }: AsBytes<JobEnd, 'id' | 'head'>): JobEnd => ({
  ...{ id: textFrom(id), count, head: textFrom(head) }
})

/** The end of a job's chain as the archive keeps it; of a job it does not know, the beginning. */
export async function endOf(db: Kysely<Tables>, job: string): Promise<JobEnd> {
  const end = await db.selectFrom('job').select(jobColumns).where('id', '=', job).executeTakeFirst()
  return end === undefined ? { id: job, count: 0, head: beginning } : endFrom(end)
}
