import { isRefusal, located, type Refusal, type Result } from '@trueloop/ground/refusal'
import { type EntryRow, type JobState, replay } from '@trueloop/job/record'
import type { Bundle } from './bundle.ts'
import { type Code, refuse } from './codes.ts'
import type { Source } from './contents.ts'
import { derivedTexts } from './derived.ts'
import { type Faces, facesOf, listComplaint } from './list.ts'
import { type Measured, measure, measureBytes } from './measure.ts'
import { type NamedByRecord, namedBy } from './named.ts'
import { documentName, names, originalName } from './names.ts'
import { recordComplaint, rowsFrom } from './record.ts'
import { jobJson, type Listed, sumsText } from './text/job-json.ts'
import { type OpenZip, openZip } from './zip/read.ts'

/**
 * Opens a bundle and looks at every byte of it before it says that it is sound: the ZIP, the list, every hash, the
 * chain, the rule by which a record grows. Writes nothing.
 * Refuses what `openZip`, `listComplaint` and `recordComplaint` refuse, and bundle/changed-file. An aborted signal is
 * thrown.
 */
export async function openBundle(file: string, signal?: AbortSignal): Promise<Result<Bundle>> {
  const zip = await openZip(file)
  if (isRefusal(zip)) return zip
  const bundle = await soundIn(zip, file, signal).catch(async (error) => {
    await zip.close()
    throw error
  })
  if (!isRefusal(bundle)) return bundle
  await zip.close()
  return located(bundle, { file })
}

async function soundIn(zip: OpenZip, file: string, signal: AbortSignal | undefined): Promise<Result<Bundle>> {
  const measured = await measureAll(zip, signal)
  if (isRefusal(measured)) return measured
  const faces = facesOf(await textIn(zip, names.job))
  if (isRefusal(faces)) return faces
  const no = listComplaint(faces, measured)
  if (no !== undefined) return no
  return recordIn({ zip, file, measured, faces })
}

interface Opening {
  readonly zip: OpenZip
  readonly file: string
  readonly measured: ReadonlyMap<string, Measured>
  readonly faces: Faces
}

async function recordIn(opening: Opening): Promise<Result<Bundle>> {
  const { zip, file, measured, faces } = opening
  const rows = rowsFrom(await textIn(zip, names.entries))
  if (isRefusal(rows)) return rows
  const named = namedBy(rows)
  const source = sourceOf(zip, rows, named)
  const no = await recordComplaint({ job: faces.job, rows, named, source, measured, end: faces })
  if (no !== undefined) return no
  const state = replay(rows)
  const changed = formComplaint(opening, state)
  if (changed !== undefined) return changed
  const otherwise = await otherwiseIn(opening, source, { state, rows, named })
  if (isRefusal(otherwise)) return otherwise
  const { job, count, head, program } = faces
  return { ...source, file, job, count, head, rows, state, named, program, measured, otherwise, close: zip.close }
}

/** Hashes every file once; one whose checksum is not that of its header has changed. */
async function measureAll(zip: OpenZip, signal: AbortSignal | undefined) {
  const all = new Map<string, Measured>()
  for (const member of zip.members) {
    const found = await measure(member.pieces(), signal)
    if (found.crc !== member.crc) return changedFile(member.name, `bytes with the hash ${found.sha256}`)
    all.set(member.name, found)
  }
  return all
}

async function textIn(zip: OpenZip, name: string): Promise<string> {
  const pieces: Uint8Array[] = []
  for await (const piece of zip.members.find((one) => one.name === name)?.pieces() ?? []) pieces.push(piece)
  return Buffer.concat(pieces).toString('utf8')
}

function sourceOf(zip: OpenZip, rows: readonly EntryRow[], { documents }: NamedByRecord): Source {
  const missing = (name: string) => missingFile(name) as Refusal<never>
  const has = (name: string) => zip.members.find((one) => one.name === name)
  return {
    entries: async () => rows,
    document: async (hash) => {
      if (has(documentName(hash)) === undefined) return missing(documentName(hash))
      return { hash, kind: documents.get(hash) ?? '', text: await textIn(zip, documentName(hash)) }
    },
    readOriginal: async (sha256) => has(originalName(sha256))?.pieces() ?? missing(originalName(sha256))
  }
}

/** List and sums follow from the record and the files: any other text of them is somebody's. */
function formComplaint({ measured, faces }: Opening, state: JobState): Refusal<Code> | undefined {
  const all: Listed[] = [...measured].map(([name, one]) => ({ name, ...one }))
  const files = all.filter(({ name }) => name !== names.job && name !== names.sums)
  const expected = [
    [names.job, jobJson(state, faces.program, files)],
    [names.sums, sumsText(all.filter(({ name }) => name !== names.sums))]
  ] as const
  const other = expected.find(([name, text]) => !isText(measured.get(name), text))
  return other === undefined ? undefined : changedFile(other[0], 'another text than follows from what it lists')
}

const isText = (found: Measured | undefined, text: string): boolean =>
  found !== undefined && found.sha256 === measureBytes(Buffer.from(text, 'utf8')).sha256

type Recorded = Parameters<typeof derivedTexts>[1]

/** A record from which no report can be made would stop every later command that reads it: it is not taken. */
async function otherwiseIn(
  { measured }: Opening,
  source: Source,
  record: Recorded
): Promise<Result<readonly string[]>> {
  try {
    const derived = await derivedTexts(source, record, measured.has(names.pdf) ? 'lies there' : undefined)
    if (isRefusal(derived)) return derived
    const other = derived.files.filter(({ name, bytes }) => measured.get(name)?.sha256 !== measureBytes(bytes).sha256)
    return other.map(({ name }) => name)
  } catch (error) {
    return changedFile('documents/', `documents from which no report can be made: ${(error as Error).message}`)
  }
}

const changedFile = (name: string, found: string) =>
  refuse('bundle/changed-file', {
    found: `${name}: ${found}`,
    needed: 'every file as it was exported',
    remedy: 'ask for the bundle again from where it was exported; nothing of this one was taken in',
    where: { path: name }
  })

const missingFile = (name: string) =>
  refuse('bundle/missing-file', {
    found: `no ${name} in the bundle`,
    needed: 'every file that the record names',
    remedy: 'ask for the bundle again from where it was exported',
    where: { path: name }
  })
