import { isRefusal } from '@trueloop/ground/refusal'
import { type Entry, type EntryOf, type EntryRow, parseEntry } from '@trueloop/job/record'

/** What the entries of a job name: the documents with their kinds, and the originals: recordings and photos. */
export interface NamedByRecord {
  /** kind by hash */
  readonly documents: ReadonlyMap<string, string>
  /** every entry that tells of an original, corrected ones too, by the original's hash */
  readonly recordings: ReadonlyMap<string, readonly EntryOf<'recording-kept'>[]>
  /** every entry that tells of a photo, by the photo's hash */
  readonly photos: ReadonlyMap<string, readonly EntryOf<'place-prepared'>[]>
}

/** Hashes of all originals, each once. */
export const originalsIn = ({ recordings, photos }: NamedByRecord): readonly string[] => [
  ...new Set([...recordings.keys(), ...photos.keys()])
]

/** An entry that this program can't read names nothing. */
export function namedBy(rows: readonly EntryRow[]): NamedByRecord {
  const documents = new Map<string, string>()
  const recordings = new Map<string, readonly EntryOf<'recording-kept'>[]>()
  const photos = new Map<string, readonly EntryOf<'place-prepared'>[]>()
  for (const entry of rows.flatMap(({ body }) => statements(JSON.parse(body)))) {
    const [hash, kind] = documentOf(entry) ?? []
    if (hash !== undefined && kind !== undefined && !documents.has(hash)) documents.set(hash, kind)
    if (entry.kind === 'recording-kept') recordings.set(entry.sha256, [...(recordings.get(entry.sha256) ?? []), entry])
    if (entry.kind === 'place-prepared' && entry.photo !== undefined)
      photos.set(entry.photo, [...(photos.get(entry.photo) ?? []), entry])
  }
  return { documents, recordings, photos }
}

/** An entry, and what a correction says instead of one. */
function statements(value: unknown): readonly Entry[] {
  const entry = parseEntry(value)
  if (isRefusal(entry)) return []
  return entry.kind === 'corrected' && entry.becomes !== 'withdrawn' ? [entry, ...statements(entry.becomes)] : [entry]
}

function documentOf(entry: Entry): readonly [hash: string, kind: string] | undefined {
  if (entry.kind === 'document-stored') return [entry.document, entry.what]
  if (entry.kind === 'standardized') return [entry.standardization, 'standardization']
  return entry.kind === 'examined' ? [entry.examination, 'examination'] : undefined
}
