import { isRefusal, type Result } from '@trueloop/ground/refusal'
import {
  beginning,
  type Entry,
  type EntryRow,
  entryId,
  type JobState,
  replay,
  type Signature,
  signedText
} from '@trueloop/job/record'
import type { Archive } from '../archive/index.ts'
import { type Moment, now } from '../clock/index.ts'
import { sha256 } from '../hash/index.ts'
import type { Signer } from '../keys/index.ts'

export type { Signer } from '../keys/index.ts'

type Draft<E> = E extends { readonly signed?: unknown } ? Omit<E, 'id' | 'at' | 'by' | 'version' | 'signed'> : never
/** What a person states, before it has its moment, its place and its signature. */
export type SignedDraft = Draft<Entry>

export interface Signing {
  readonly archive: Archive
  readonly job: string
  readonly signer: Signer
  readonly clock?: () => Moment
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
  return rows.length === 0 ? undefined : { rows, state: replay(rows) }
}

const nothingYet = `${'A'.repeat(86)}==`

/** An entry signed over the head of these rows. Made again over the same head it is the same entry. */
export function signedEntry(
  rows: readonly EntryRow[],
  draft: SignedDraft,
  { job, signer, clock = now }: Omit<Signing, 'archive'>
): Entry {
  const over = rows.at(-1)?.hash ?? beginning
  const open: Signature = { person: signer.person, over, value: nothingYet }
  const id = entryId(sha256, { ...draft, over, by: signer.row.name })
  const by = { kind: 'person', name: signer.row.name }
  const entry = { ...draft, version: 1, id, at: clock(), by, signed: open } as unknown as Entry
  return { ...entry, signed: { ...open, value: signer.sign(signedText(job, entry)) } } as unknown as Entry
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
  const document = await signersDocument(rows, signing)
  if (isRefusal(document)) return document
  const entries = drafts.map((draft) => signedEntry(rows, draft, signing))
  return signing.archive.append(signing.job, rows.length, [...document, ...entries])
}

/** The entry by which a job holds the document of one who signs; none where it holds it already. */
export async function signersDocument(
  rows: readonly EntryRow[],
  { archive, signer, clock = now }: Omit<Signing, 'job'>
): Promise<Result<readonly Entry[]>> {
  const stored = await archive.storeDocument('person', signer.row)
  if (isRefusal(stored)) return stored
  if (rows.some(({ kind, body }) => kind === 'document-stored' && body.includes(`"document":"${stored}"`))) return []
  const about = { kind: 'document-stored', version: 1, document: stored, what: 'person' } as const
  const by = { kind: 'person', name: signer.row.name } as const
  return [{ ...about, id: entryId(sha256, about), at: clock(), by, name: signer.row.name }]
}
