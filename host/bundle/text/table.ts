import type { EntryOf } from '@trueloop/job/record'
import type { NamedByRecord, OriginalEntry } from '../named.ts'
import { ascii, columns } from './ascii.ts'

type Recording = EntryOf<'recording-kept'>

/** The originals under the names they had: one row an entry, in the order in which they count as taken. */
export function originalsTable({ originals }: NamedByRecord): string {
  const rows = [...originals].flatMap(([sha256, all]) => all.map((entry) => [sha256, ...cellsOf(entry)]))
  return `${columns([['SHA-256', 'of', 'name'], ...rows]).join('\n')}\n`
}

function cellsOf(entry: OriginalEntry): readonly string[] {
  if (entry.kind === 'recording-kept') return [ascii(subjectText(entry.of)), ascii(entry.file)]
  if (entry.kind === 'drawing-kept') return ['drawing', ascii(entry.file)]
  return [ascii(subjectText(entry.subject)), 'a photo']
}

const subjectText = (of: Recording['of']): string => ('name' in of ? `${of.of} ${of.name}` : of.of)

/** How the columns of each recording are to be read, as its last entry says. */
export const columnsTable = ({ originals }: NamedByRecord): readonly string[] => {
  const last = [...originals.values()].map((all) => all.at(-1))
  const rows = last.flatMap((entry) => (entry?.kind === 'recording-kept' ? [columnsRow(entry)] : []))
  return columns([['SHA-256', 'read as', 'sample rate, Hz', 'columns'], ...rows])
}

const columnsRow = ({ sha256, format, rate_Hz, columns: known = {} }: Recording): readonly string[] => [
  sha256.slice(0, 12),
  format === undefined ? 'not stated' : ascii(format),
  rate_Hz === undefined ? 'not stated' : String(rate_Hz),
  Object.entries(known)
    .map(([role, column]) => ascii(`${role} ${column}`))
    .join(', ') || 'not stated'
]
