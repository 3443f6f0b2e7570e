import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { type EntryRow, type JobState, replay, verify } from '@trueloop/job/record'
import type { Archive } from '../archive/index.ts'
import { sha256, signatureHolds } from '../hash/index.ts'
import { refuse } from './codes.ts'
import { type Derived, derivedTexts, type PdfWriter } from './derived.ts'
import { linesOf } from './lines.ts'
import { type Measured, measure, measureBytes } from './measure.ts'
import { type NamedByRecord, namedBy } from './named.ts'
import { documentName, inOrder, names, originalName } from './names.ts'
import { jobJson, sumsText } from './text/job-json.ts'

/** What a bundle is made from: an archive, or another bundle. */
export type Source = Pick<Archive, 'entries' | 'document' | 'readOriginal'>

/** A file of the bundle: its name, what is known of its bytes, and the bytes themselves. */
export interface Content extends Measured {
  readonly name: string
  readonly pieces: () => Promise<Result<AsyncIterable<Uint8Array>>>
}

export interface Contents {
  readonly state: JobState
  /** in the order of the bundle */
  readonly files: readonly Content[]
}

export interface Gathering {
  readonly job: string
  /** writes the report as PDF, where there is a way to; the same record must give the same bytes */
  readonly pdf?: PdfWriter
  readonly signal?: AbortSignal
}

/**
 * All files of a job's bundle, each read once and checked: a record that is not whole is not handed over.
 * Refuses bundle/no-such-job, bundle/record-not-whole, and what the archive refuses.
 */
export async function gather(source: Source, gathering: Gathering): Promise<Result<Contents>> {
  const rows = await source.entries(gathering.job)
  if (isRefusal(rows)) return rows
  if (rows.length === 0) return noSuchJob(gathering.job)
  const named = namedBy(rows)
  const documents = await documentsOf(source, named)
  if (isRefusal(documents)) return documents
  const originals = await originalsOf(source, named, gathering.signal)
  if (isRefusal(originals)) return originals
  const no = await notWhole(rows, source, originals)
  if (no !== undefined) return no
  const state = replay(rows)
  const derived = await derivedTexts(source, { state, rows, named }, gathering.pdf)
  if (isRefusal(derived)) return derived
  const files = [ofText(names.entries, linesOf(rows)), ...documents, ...originals, ...derivedFiles(derived)]
  return { state, files: inOrder([...files, ...lists(state, derived, inOrder(files))]) }
}

function lists(state: JobState, { program }: Derived, files: readonly Content[]): readonly Content[] {
  const job = ofText(names.job, jobJson(state, program, files))
  return [job, ofText(names.sums, sumsText(inOrder([...files, job])))]
}

const derivedFiles = ({ files }: Derived): readonly Content[] => files.map(({ name, bytes }) => ofBytes(name, bytes))

const ofText = (name: string, text: string): Content => ofBytes(name, Buffer.from(text, 'utf8'))

async function* inOne(bytes: Uint8Array): AsyncGenerator<Uint8Array> {
  yield bytes
}

const ofBytes = (name: string, bytes: Uint8Array): Content => ({
  name,
  ...measureBytes(bytes),
  pieces: async () => inOne(bytes)
})

async function documentsOf(source: Source, { documents }: NamedByRecord): Promise<Result<readonly Content[]>> {
  const all: Content[] = []
  for (const hash of documents.keys()) {
    const document = await source.document(hash)
    if (isRefusal(document)) return document
    all.push({ ...ofText(documentName(hash), document.text), pieces: () => textOf(source, hash) })
  }
  return all
}

async function textOf(source: Source, hash: string): Promise<Result<AsyncIterable<Uint8Array>>> {
  const document = await source.document(hash)
  return isRefusal(document) ? document : inOne(Buffer.from(document.text, 'utf8'))
}

async function originalsOf(
  source: Source,
  { originals }: NamedByRecord,
  signal: AbortSignal | undefined
): Promise<Result<readonly Content[]>> {
  const all: Content[] = []
  for (const hash of originals.keys()) {
    const pieces = await source.readOriginal(hash)
    if (isRefusal(pieces)) return pieces
    const measured = await measure(pieces, signal)
    all.push({ name: originalName(hash), ...measured, pieces: () => source.readOriginal(hash) })
  }
  return all
}

async function notWhole(
  rows: readonly EntryRow[],
  source: Source,
  originals: readonly Content[]
): Promise<Refusal | undefined> {
  const hashes = new Map(originals.map(({ name, sha256: found }) => [name, found]))
  const { intact } = await verify({
    rows,
    hash: sha256,
    holds: signatureHolds,
    original: async (name) => hashes.get(originalName(name)),
    document: async (hash) => textUnlessRefused(source, hash)
  })
  const [fault] = intact.faults
  return fault === undefined ? undefined : broken(fault)
}

async function textUnlessRefused(source: Source, hash: string): Promise<string | undefined> {
  const document = await source.document(hash)
  return isRefusal(document) ? undefined : document.text
}

const broken = ({ place, found, needed }: { place: string; found: string; needed: string }) =>
  refuse('bundle/record-not-whole', {
    found: `${place}: ${found}`,
    needed,
    remedy: 'run verify on the job; restore what is damaged from a backup, then run the command again',
    where: { path: place }
  })

const noSuchJob = (job: string) =>
  refuse('bundle/no-such-job', {
    found: `no job "${job}"`,
    needed: 'a job of this archive',
    remedy: 'list the jobs with record, and name one of them'
  })
