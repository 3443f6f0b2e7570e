import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { type Entry, type EntryRow, entryId, holdsPerson, type JobState } from '@trueloop/job/record'
import type { Archive } from '../archive/index.ts'
import { type Moment, now } from '../clock/index.ts'
import { sha256 } from '../hash/index.ts'
import { type Signer, signedEntry } from '../keys/index.ts'
import { replayed } from '../memory/index.ts'

type Draft<E> = E extends { readonly signed?: unknown } ? Omit<E, 'id' | 'at' | 'by' | 'version' | 'signed'> : never
/** What a person states, before it has its moment, its place and its signature. */
export type SignedDraft = Draft<Entry>

export interface Signing {
  readonly archive: Archive
  readonly job: string
  readonly signer: Signer
  readonly clock?: () => Moment
  /** made by a client for one statement: its entries are named by it and a running number, so that sending it twice is no double */
  readonly statement?: string
}

/** A job's record as a person has it before their eyes. */
export interface Seen {
  readonly rows: readonly EntryRow[]
  readonly state: JobState
}

/** Reads the record of a job; undefined where the archive has none. */
export async function seen(archive: Archive, job: string): Promise<Result<Seen | undefined>> {
  const rows = await archive.entries(job)
  if (isRefusal(rows)) return rows
  return rows.length === 0 ? undefined : { rows, state: replayed(rows) }
}

/**
 * Appends what a person states, signed, in one go: all of it or nothing. The job keeps the person's document with their
 * first signature. Refuses what the record refuses; entries written by others meanwhile too (`record/sequence-taken`).
 */
export async function appendSigned(
  { rows }: Seen,
  drafts: readonly SignedDraft[],
  signing: Signing
): Promise<Result<readonly EntryRow[]>> {
  const { archive, job, signer, clock, statement } = signing
  const document = await signersDocument(rows, signing)
  if (isRefusal(document)) return document
  const entries = drafts.map((draft, at) => {
    const id = statement === undefined ? undefined : `${statement}.${at + 1}`
    return signedEntry<Entry>(draft, { chain: job, rows, signer, clock, id })
  })
  return archive.append(job, rows.length, [...document, ...entries])
}

/** The entry by which a job holds the document of one who signs; none where it holds it already. */
export async function signersDocument(
  rows: readonly EntryRow[],
  { archive, signer, clock = now }: Omit<Signing, 'job'>
): Promise<Result<readonly Entry[]>> {
  const stored = await archive.storeDocument('person', signer.row)
  if (isRefusal(stored)) return stored
  if (holdsPerson(rows, stored)) return []
  const about = { kind: 'document-stored', version: 1, document: stored, what: 'person' } as const
  const by = { kind: 'person', name: signer.row.name } as const
  return [{ ...about, id: entryId(sha256, about), at: clock(), by, name: signer.row.name }]
}
