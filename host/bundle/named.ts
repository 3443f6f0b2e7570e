import { isRefusal } from '@trueloop/ground/refusal'
import { type Entry, type EntryOf, type EntryRow, parseEntry } from '@trueloop/job/record'

/** An entry that tells of a file that lies as an original: a recording, a drawing, or a photo. */
export type OriginalEntry = EntryOf<'recording-kept'> | EntryOf<'drawing-kept'> | EntryOf<'place-prepared'>

/** What the entries of a job name: the documents with their kinds, and the originals. */
export interface NamedByRecord {
  /** kind by hash */
  readonly documents: ReadonlyMap<string, string>
  /** every entry that tells of an original, corrected ones too, by the original's hash */
  readonly originals: ReadonlyMap<string, readonly OriginalEntry[]>
}

/** An entry that this program can't read names nothing. */
export function namedBy(rows: readonly EntryRow[]): NamedByRecord {
  const documents = new Map<string, string>()
  const originals = new Map<string, readonly OriginalEntry[]>()
  for (const entry of rows.flatMap(({ body }) => statements(JSON.parse(body)))) {
    const [document, kind] = documentOf(entry) ?? []
    if (document !== undefined && kind !== undefined && !documents.has(document)) documents.set(document, kind)
    const { original, by } = originalOf(entry) ?? {}
    if (original !== undefined && by !== undefined) originals.set(original, [...(originals.get(original) ?? []), by])
  }
  return { documents, originals }
}

/** An entry, and what a correction says instead of one. */
function statements(value: unknown): readonly Entry[] {
  const entry = parseEntry(value)
  if (isRefusal(entry)) return []
  return entry.kind === 'corrected' && entry.becomes !== 'withdrawn' ? [entry, ...statements(entry.becomes)] : [entry]
}

function documentOf(entry: Entry): readonly [hash: string, kind: string] | undefined {
  if (entry.kind === 'document-stored') return [entry.document, entry.what]
  if (entry.kind === 'practice-marked') return [entry.answers, 'practice answers']
  if (entry.kind === 'standardized') return [entry.standardization, 'standardization']
  return entry.kind === 'examined' ? [entry.examination, 'examination'] : undefined
}

function originalOf(entry: Entry): { readonly original: string; readonly by: OriginalEntry } | undefined {
  if (entry.kind === 'recording-kept' || entry.kind === 'drawing-kept') return { original: entry.sha256, by: entry }
  if (entry.kind !== 'place-prepared' || entry.photo === undefined) return undefined
  return { original: entry.photo, by: entry }
}
