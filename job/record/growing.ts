import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { canonical } from './canonical.ts'
import { type Code, refuse } from './codes.ts'
import { beginning, chainHash, type EntryRow, type Hash } from './row.ts'

/** How any record grows, a job's or the shop's: by what its own rule lets in, numbered, hashed, never doubled. */

/** The end of a record, and the entries that are there already. */
export interface Grown {
  readonly count: number
  readonly last: EntryRow | undefined
  readonly byId: (id: string) => EntryRow | undefined
}

interface Headed {
  readonly id: string
  readonly kind: string
  readonly version: number
}

export interface Adding<E> {
  /** how many entries the record has, as the client knows it */
  readonly expectedSeq: number
  readonly entries: readonly E[]
}

export interface Appended {
  /** rows for all entries asked for, those that were there already too, in the order asked */
  readonly rows: readonly EntryRow[]
  /** rows that are new, to be written in one transaction */
  readonly fresh: readonly EntryRow[]
}

/** Reads an entry and says whether it may follow, the fresh rows of the same append before it. */
export type Rule<E, C extends string> = (entry: E, fresh: readonly EntryRow[]) => Result<E, C>

/**
 * Entries that are there already (same id, same body) are given back; the others follow the last one, all or none.
 * Refuses `record/sequence-taken`, `record/id-taken`, and what the rule refuses.
 */
export function grow<E extends Headed, C extends string>(
  { grown, hash }: { readonly grown: Grown; readonly hash: Hash },
  { expectedSeq, entries }: Adding<E>,
  rule: Rule<E, C>
): Result<Appended, C | Code> {
  const rows: EntryRow[] = []
  const fresh: EntryRow[] = []
  const byId = new Map<string, EntryRow>()
  for (const entry of entries) {
    const old = byId.get(entry.id) ?? grown.byId(entry.id)
    const row = old === undefined ? follow(rule(entry, fresh), { grown, fresh }, hash) : same(old, entry)
    if (isRefusal(row)) return row
    if (old === undefined) fresh.push(row)
    byId.set(row.id, row)
    rows.push(row)
  }
  return fresh.length > 0 && expectedSeq !== grown.count ? taken(expectedSeq, grown.count) : { rows, fresh }
}

function follow<E extends Headed, C extends string>(
  read: Result<E, C>,
  { grown, fresh }: { readonly grown: Grown; readonly fresh: readonly EntryRow[] },
  hash: Hash
): Result<EntryRow, C> {
  if (isRefusal(read)) return read as Refusal<C>
  const previous = (fresh.at(-1) ?? grown.last)?.hash ?? beginning
  const place = { seq: grown.count + fresh.length, previous, body: canonical(read) }
  return { ...place, id: read.id, kind: read.kind, version: read.version, hash: chainHash(hash, place) }
}

const same = (row: EntryRow, entry: Headed): Result<EntryRow, Code> =>
  row.body === canonical(entry) ? row : idTaken(row)

const taken = (expected: number, count: number): Refusal<Code> =>
  refuse('record/sequence-taken', {
    found: `${count} entries in this record`,
    needed: `${expected}, as they were when the new ones were made`,
    remedy: 'read the record again and see whether the new entries still hold'
  })

const idTaken = (row: EntryRow): Refusal<Code> =>
  refuse('record/id-taken', {
    found: `entry ${row.seq} of kind "${row.kind}" under the same id with other content`,
    needed: 'one id for one entry',
    remedy: 'give the new entry an id of its own; to change an old one, append a correction that points at it'
  })
