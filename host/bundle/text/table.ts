import type { EntryOf } from '@trueloop/job/record'
import type { NamedByRecord } from '../named.ts'
import { ascii, columns } from './ascii.ts'

type Recording = EntryOf<'recording-kept'>

/**
 * The originals under the names they had: one row a recording, in the order in which they count as taken; then photos, of
 * which the record keeps no name.
 */
export function originalsTable({ recordings, photos }: NamedByRecord): string {
  const head = ['SHA-256', 'bytes', 'of', 'name']
  const rows = [...recordings.values()].flatMap((all) => all.map(rowOf))
  const seen = [...photos].flatMap(([hash, all]) =>
    all.map(({ subject }) => [hash, 'not stated', subjectText(subject), 'photo'])
  )
  return `${columns([head, ...rows, ...seen.map((row) => row.map(ascii))]).join('\n')}\n`
}

const rowOf = ({ sha256, bytes, of, file }: Recording): readonly string[] => [
  sha256,
  String(bytes),
  ascii(subjectText(of)),
  ascii(file)
]

export const subjectText = (of: Recording['of']): string => ('name' in of ? `${of.of} ${of.name}` : of.of)

/** How the columns of each recording are to be read, as its last entry says. */
export const columnsTable = ({ recordings }: NamedByRecord): readonly string[] => {
  const head = ['SHA-256', 'read as', 'sample rate, Hz', 'columns']
  const rows = [...recordings.values()].map((all) => columnsRow(all.at(-1) as Recording))
  return columns([head, ...rows])
}

const columnsRow = ({ sha256, format, rate_Hz, columns: known = {} }: Recording): readonly string[] => [
  sha256.slice(0, 12),
  format === undefined ? 'not stated' : ascii(format),
  rate_Hz === undefined ? 'not stated' : String(rate_Hz),
  Object.entries(known)
    .map(([role, column]) => ascii(`${role} ${column}`))
    .join(', ') || 'not stated'
]
