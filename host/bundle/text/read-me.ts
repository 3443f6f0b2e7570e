import type { EntryRow, JobState } from '@trueloop/job/record'
import { lineOf } from '../lines.ts'
import type { NamedByRecord } from '../named.ts'
import { names } from '../names.ts'
import { ascii, columns, wrapped } from './ascii.ts'
import { signatures } from './signatures.ts'
import { columnsTable } from './table.ts'

/** What the page tells of. */
export interface ReadMe {
  readonly state: JobState
  readonly rows: readonly EntryRow[]
  readonly named: NamedByRecord
  readonly program: { readonly name: string; readonly version: string }
  readonly hasPdf: boolean
}

/** How to read this bundle without the program that wrote it: plain ASCII English. */
export const readMe = (about: ReadMe): string =>
  `${[...what(about), ...files(about), ...bytes, ...chain(about), ...signed(about), ...recordings(about), ...limits(about)].join('\n')}\n`

const section = (title: string): readonly string[] => ['', title, '-'.repeat(title.length)]

function what({ state, program }: ReadMe): readonly string[] {
  const { job } = state.opened
  return [
    'READ ME FIRST',
    '=============',
    '',
    ...wrapped(
      'This is the whole record of one job of eddy-current testing: what was planned, the recordings as the instrument gave them, what was examined and what was not, what was found, and what named persons stated. Everything in it can be read with a text editor, and checked with programs that come with any computer.'
    ),
    '',
    ...columns([
      ['job', ascii(job.id)],
      ['component', ascii(job.component)],
      ['application', state.opened.application],
      ['entries', String(state.count)],
      ['chain head', `${state.count}:${state.head}`],
      ['written by', `${program.name} ${program.version}`]
    ]),
    ...(job.demonstration ? ['', 'DEMONSTRATION: invented data, never to be signed off.'] : []),
    '',
    ...wrapped(
      'Names outside ASCII are written with \\uXXXX on this page: the code of the character in Unicode, in hex.'
    )
  ]
}

const files = ({ hasPdf }: ReadMe): readonly string[] => [
  ...section('1. What each file is'),
  ...columns([
    [names.job, 'kind and version of this bundle, the job, the end of its chain, all files'],
    [names.sums, 'SHA-256 of every other file'],
    [names.entries, 'the record: one entry a line, JSON in UTF-8, never changed, only added to'],
    ['documents/', 'what entries refer to, JSON; the name is the SHA-256 of the bytes'],
    ['originals/', 'recordings, drawings and photos, untouched; the name is the SHA-256 of the bytes'],
    [names.originalsTable, 'the name that each recording had, and what each is of'],
    [names.report, 'the report, for any web browser; without the drawn pictures of walls'],
    ...(hasPdf ? [[names.pdf, 'the same report for printing']] : []),
    [names.entrySchema, 'JSON Schema of an entry: every member, its unit, its meaning'],
    [names.sheetSchema, 'JSON Schema of the job sheet (the document "job sheet")']
  ]),
  '',
  ...wrapped(
    'The report is as of the last entry and bears its time. Where report and entries differ, the entries hold: the report follows from them.'
  )
]

const bytes: readonly string[] = [
  ...section('2. Are these the bytes that were written?'),
  ...wrapped('Unpack the ZIP, go into the folder, and run:'),
  '',
  `  sha256sum -c ${names.sums}`,
  '',
  ...wrapped(
    'Every line must end in OK. SHA-256 is the standard hash of FIPS 180-4. This finds what was damaged. It does not find what somebody changed who made the sums anew: for that compare the chain head (above) with one that was printed or handed over at the time.'
  )
]

function chain(about: ReadMe): readonly string[] {
  return [
    ...section('3. Were entries changed, removed, added?'),
    ...wrapped(
      `Each line of ${names.entries} is {"entry":E,"hash":H,"previous":P,"seq":N} with members in this order and no spaces. H is the SHA-256 of the same line without its own hash, {"entry":E,"previous":P,"seq":N}, in UTF-8, without the line end. P is the hash of the line before; 64 zeros on the first line. N counts from 0. So the hash of the last line, the chain head, stands for all lines before it.`
    ),
    '',
    ...example(about.rows),
    ...(about.state.merges.length === 0 ? [] : ['', ...wrapped(merges)])
  ]
}

const merges =
  'Two devices worked on this job apart: see the entries of kind "merged". "common" entries are of both; "theirs.rows" names the document with the lines of the other device from there on (members seq, id, kind, version, body, previous, hash; body is E as text), which are checked in the same way and end in "theirs.head". The entries in "brings" stand here once more, just before the merge, with new hashes; a signature in them is over a hash in that document.'

const cut = String.raw`s/,"hash":"[0-9a-f]{64}"(,"previous":"[0-9a-f]{64}","seq":[0-9]+[}])$/\1/`

/** Worked on a line of this very job: the second, which has one before it. */
function example(rows: readonly EntryRow[]): readonly string[] {
  const row = rows[Math.min(1, rows.length - 1)] as EntryRow
  const line = lineOf(row).replace(`,"hash":"${row.hash}","previous":`, ',"previous":')
  return [
    `Worked example, line ${row.seq + 1}:`,
    '',
    `  sed -n ${row.seq + 1}p ${names.entries} | sed -E '${cut}' \\`,
    "    | tr -d '\\n' | sha256sum",
    '',
    ...columns([
      ['  prints', row.hash],
      ['  the line has as hash', row.hash],
      ['  and as previous', row.previous]
    ]),
    '',
    ...wrapped(
      `What is hashed is ${Buffer.byteLength(line)} bytes long, begins with ${ascii(line.slice(0, 24))} and ends in "seq":${row.seq}}.`
    )
  ]
}

const signed = ({ state, rows }: ReadMe): readonly string[] => [
  ...section('4. Who signed?'),
  ...signatures(state.opened.job.id, rows)
]

const recordings = ({ named }: ReadMe): readonly string[] => [
  ...section('5. How the recordings are to be read'),
  ...wrapped(
    'Each recording is a table: a row a sample, in the order of time, columns counted from 0. Format "wave": a RIFF WAVE file, little-endian, its header tells the type of numbers; channel 0 is column 0. Format "delimited": text, a row a line; rows before the first row of numbers are headings.'
  ),
  '',
  ...columns([
    ['x, y', 'the two parts of the signal at right angles, in the units the instrument wrote'],
    ['index', 'a pulse once a revolution of the probe'],
    ['time', 'time of the sample'],
    ['position', 'way along the axis or the weld'],
    ['absolute', 'a second channel that follows the distance between coil and metal']
  ]),
  '',
  ...columnsTable(named),
  '',
  ...wrapped(
    `The entries of kind "recording-kept" say the same and more (whose hole, when, with which equipment). ${names.originalsTable} gives the names that the files had.`
  )
]

const limits = ({ state }: ReadMe): readonly string[] => [
  ...section('6. What this does not say'),
  ...wrapped(
    'A place that was not examined is not a place where nothing was found: the report lists what was not examined first. "No relevant indication" says what was examined and how small a flaw that shows, never that nothing is there. The program proposes; persons decide, and their decisions are entries. Of an entry without a signature, who wrote it is as sure as the computer it was written on.'
  ),
  ...(state.opened.job.demonstration ? ['', 'This job is a demonstration. Its data are invented.'] : [])
]
