import { isRefusal, type Refusal, type Result, sentence } from '@trueloop/ground/refusal'
import {
  append,
  type ChainEnd,
  canonical,
  chainOf,
  type Entry,
  type EntryRow,
  parseEntry,
  verify,
  type Witness
} from '@trueloop/job/record'
import { sha256, signatureHolds } from '../hash/index.ts'
import { type Code, refuse } from './codes.ts'
import type { Source } from './contents.ts'
import { linesOf, rowOf } from './lines.ts'
import type { Measured } from './measure.ts'
import type { NamedByRecord } from './named.ts'
import { documentName, hashInName, names, originalName } from './names.ts'

/** The rows of the lines. Refuses bundle/unknown-kind and bundle/wrong-chain, with the number of the line. */
export function rowsFrom(text: string): Result<readonly EntryRow[], Code> {
  const rows: EntryRow[] = []
  for (const line of text.split('\n').slice(0, -1)) {
    const row = rowOf(line)
    if (row === undefined) return wrongChain(rows.length, 'a line that is no entry in canonical form')
    const entry = parseEntry(JSON.parse(row.body))
    if (isRefusal(entry)) return unreadEntry(rows.length, entry)
    rows.push(row)
  }
  return linesOf(rows) === text ? rows : wrongChain(rows.length, 'a last line that does not end')
}

const unreadEntry = (at: number, no: Refusal): Refusal<Code> =>
  no.code === 'record/unknown-kind' ? unknownKind(at, no) : wrongChain(at, no.found)

export interface RecordClaim {
  readonly job: string
  readonly rows: readonly EntryRow[]
  readonly named: NamedByRecord
  readonly source: Source
  readonly measured: ReadonlyMap<string, Measured>
  /** as `job.json` has it */
  readonly end: ChainEnd
}

/**
 * Why a record is not sound: files that are not those it names, a chain that does not hold, documents that are not what
 * their names stand for, or entries that the rule by which a record grows would not let in.
 * Refuses bundle/missing-file, bundle/unlisted-file, bundle/wrong-chain, bundle/against-the-rule.
 */
export async function recordComplaint(record: RecordClaim): Promise<Refusal<Code> | undefined> {
  return (
    filesComplaint(record) ??
    (await formsComplaint(record)) ??
    (await chainComplaint(record)) ??
    (await ruleComplaint(record))
  )
}

function filesComplaint({ named: { documents, originals }, measured }: RecordClaim): Refusal<Code> | undefined {
  const wanted = new Set([...[...documents.keys()].map(documentName), ...[...originals.keys()].map(originalName)])
  const missing = [...wanted].find((name) => !measured.has(name))
  if (missing !== undefined) return notThere(missing)
  const extra = [...measured.keys()].find((name) => hashInName(name) !== undefined && !wanted.has(name))
  return extra === undefined ? undefined : notNamed(extra)
}

/** Documents are canonical JSON: an archive that stores one computes its name anew. */
async function formsComplaint({ named: { documents }, source }: RecordClaim): Promise<Refusal<Code> | undefined> {
  for (const hash of documents.keys()) {
    const document = await source.document(hash)
    if (isRefusal(document) || !isCanonical(document.text)) return otherForm(documentName(hash))
  }
  return undefined
}

function isCanonical(text: string): boolean {
  try {
    return canonical(JSON.parse(text)) === text
  } catch {
    return false
  }
}

async function chainComplaint({ rows, source, measured, end }: RecordClaim): Promise<Refusal<Code> | undefined> {
  const { intact } = await verify({
    rows,
    hash: sha256,
    holds: signatureHolds,
    kept: end,
    original: async (name) => measured.get(originalName(name))?.sha256,
    document: async (hash) => textOf(source, hash)
  }).catch((error: Error) => ({ intact: { faults: [noExamination(error)] } }))
  const [fault] = intact.faults
  return fault === undefined ? undefined : wrong(`${fault.place}: ${fault.found}`, fault.needed)
}

/** A document of somebody else's need not have the members that an examination has. */
const noExamination = ({ message }: Error) => ({
  place: 'documents/',
  found: `a document that is no examination: ${message}`,
  needed: 'what its entry says that it is'
})

async function textOf(source: Source, hash: string): Promise<string | undefined> {
  const document = await source.document(hash)
  return isRefusal(document) ? undefined : document.text
}

/** Grown by the rule from nothing, the record must come out as it is handed over, hash by hash. */
async function ruleComplaint({ job, rows, named, source }: RecordClaim): Promise<Refusal<Code> | undefined> {
  const entries = rows.map(({ body }) => JSON.parse(body) as Entry)
  const witness = await witnessOf(named, source)
  const grown = append(chainOf(job, [], witness), { expectedSeq: 0, entries, elsewhere: true }, sha256)
  if (isRefusal(grown)) return againstTheRule(sentence(grown))
  const other = rows.findIndex(({ hash }, at) => grown.rows[at]?.hash !== hash)
  return other < 0 ? undefined : againstTheRule(`entry ${other}, which comes out with another hash`)
}

/** Kinds of documents that the rule asks for: people who sign, who approves a technique, answers that a marking tells. */
const witnessed: readonly string[] = ['person', 'technique', 'other chain', 'practice answers']

async function witnessOf({ documents }: NamedByRecord, source: Source): Promise<Witness> {
  const texts = new Map<string, string | undefined>()
  for (const [hash, kind] of documents) if (witnessed.includes(kind)) texts.set(hash, await textOf(source, hash))
  return { document: (hash) => texts.get(hash), holds: signatureHolds }
}

const remedy = 'ask for the bundle again from where it was exported; nothing of this one was taken in'

const wrong = (found: string, needed: string) =>
  refuse('bundle/wrong-chain', { found, needed, remedy, where: { path: names.entries } })

const wrongChain = (at: number, found: string) => wrong(`entry ${at}: ${found}`, 'entries as they were written')

const otherForm = (name: string) => wrong(`${name}, which is not canonical JSON`, 'documents as they were stored')

const unknownKind = (at: number, { found, needed }: Refusal) =>
  refuse('bundle/unknown-kind', {
    found: `entry ${at}: ${found}`,
    needed,
    remedy: 'use the version of the program that wrote it, or a newer one',
    where: { path: names.entries, line: at + 1 }
  })

const notThere = (name: string) =>
  refuse('bundle/missing-file', {
    found: `no ${name} in the bundle, which an entry names`,
    needed: 'every document and original that the record names',
    remedy,
    where: { path: name }
  })

const notNamed = (name: string) =>
  refuse('bundle/unlisted-file', {
    found: `${name}, which no entry names`,
    needed: 'the documents and originals that the record names, and no other',
    remedy,
    where: { path: name }
  })

const againstTheRule = (found: string) =>
  refuse('bundle/against-the-rule', {
    found,
    needed: 'entries that could have been appended one after the other',
    remedy:
      'use the version of the program that wrote it, or a newer one; if it was this one, ask for the bundle again',
    where: { path: names.entries }
  })
