/** Looks at the beginning of a recording and says what it seems to be, with reasons. */
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { refuse } from './codes.ts'
import { CERTAIN, type Column, guessColumns } from './columns/guess.ts'
import { timeScale } from './columns/units.ts'
import { type Format, HEAD_LIMIT, type Head, type Layout, type Rate } from './format.ts'
import { formats } from './formats/index.ts'
import { rateOfStamps, type StampRate } from './time/rate.ts'

export interface Survey {
  readonly format: string
  readonly columns: readonly Column[]
  /** from the header of the file or from the guessed time column */
  readonly rate_Hz?: Rate
  /** x and y were found, every role that would be used is certain, and there is no doubt about the numbers */
  readonly certain: boolean
  readonly notes: readonly string[]
  /** what a person has to settle beside the columns */
  readonly doubts: readonly string[]
  readonly headerRows: number
  /** how the format was read: encoding, separator, sample type */
  readonly details: Readonly<Record<string, string>>
}

/**
 * Guesses format, columns and sample rate from the first bytes (at most HEAD_LIMIT of `head` are looked at).
 * @param name file name, for messages
 * @param size bytes of the whole recording where known
 * Refuses: scan/empty-file, scan/unknown-format, scan/only-text, scan/unreadable-numbers, scan/unsupported-encoding,
 * scan/truncated-header, scan/inconsistent-header, scan/one-channel.
 */
export function survey(head: Uint8Array, name: string, size?: number): Result<Survey> {
  const opened = layoutOf(headOf(head, name, size))
  if (isRefusal(opened)) return opened
  const { format, layout } = opened
  if (layout.columns.filter((column) => column.kind !== 'text').length < 2) return oneColumn(layout, name)
  const columns = guessColumns(layout.columns)
  const rate = layout.rate ?? guessedRate(layout, columns)
  return {
    format: format.name,
    columns,
    ...(rate === undefined ? {} : { rate_Hz: rate }),
    certain: layout.doubts.length === 0 && isCertain(columns),
    notes: layout.notes,
    doubts: layout.doubts,
    headerRows: layout.headerRows,
    details: layout.details
  }
}

export const headOf = (bytes: Uint8Array, name: string, size: number | undefined): Head => ({
  bytes: bytes.subarray(0, HEAD_LIMIT),
  name,
  ...(size === undefined ? {} : { size })
})

/** The format that knows these bytes, and what it sees in them. */
export function layoutOf(head: Head): Result<{ format: Format; layout: Layout }> {
  if (head.bytes.every(isBlankByte)) return emptyFile(head)
  const format = formats.find((one) => one.recognise(head))
  if (format === undefined) return unknownFormat(head)
  const layout = format.survey(head)
  return isRefusal(layout) ? layout : { format, layout }
}

const isBlankByte = (byte: number): boolean => byte === 0 || byte === 9 || byte === 10 || byte === 13 || byte === 32

function guessedRate(layout: Layout, columns: readonly Column[]): Rate | undefined {
  const time = columns.find((column) => column.role === 'time')
  return time === undefined ? undefined : rateOfColumn(layout, time.number, timeScale(time.unit) ?? 1)?.rate
}

/** The rate that the stamps of a column in the head show. `scale`: seconds in one of the recorded unit. */
export function rateOfColumn(layout: Layout, number: number, scale: number): StampRate | undefined {
  const raw = layout.columns[number]
  if (raw === undefined) return undefined
  return rateOfStamps(
    raw.values.map((value) => value * scale),
    raw.period_s
  )
}

function isCertain(columns: readonly Column[]): boolean {
  const used = columns.filter((column) => column.role !== 'ignore' && column.role !== 'angle')
  const complete = ['x', 'y'].every((role) => used.some((column) => column.role === role))
  return complete && used.every((column) => column.certainty >= CERTAIN)
}

const emptyFile = (head: Head): Refusal =>
  refuse('scan/empty-file', {
    found: head.bytes.length === 0 ? 'no bytes' : 'nothing but blanks and NUL bytes',
    needed: 'a recording',
    remedy: 'check that the recording was saved and copied whole',
    where: { file: head.name }
  })

const MAGIC: readonly [string, string][] = [
  ['\x89HDF', 'an HDF5 file'],
  ['MATLAB', 'a MAT file'],
  ['PK\x03\x04', 'a ZIP archive (spreadsheets are such archives)'],
  ['\x1f\x8b', 'a gzip archive'],
  ['%PDF', 'a PDF document'],
  ['\x89PNG', 'a picture'],
  ['\xff\xd8\xff', 'a picture']
]

function unknownFormat(head: Head): Refusal {
  const first = Array.from(head.bytes.subarray(0, 8))
  const text = String.fromCharCode(...first)
  const hex = first.map((byte) => byte.toString(16).padStart(2, '0')).join(' ')
  return refuse('scan/unknown-format', {
    found: MAGIC.find(([magic]) => text.startsWith(magic))?.[1] ?? `a file that begins with the bytes ${hex}`,
    needed: `one of the formats ${formats.map((format) => format.name).join(', ')}`,
    remedy: 'export the recording in one of these formats',
    where: { file: head.name }
  })
}

const oneColumn = (layout: Layout, file: string): Refusal =>
  refuse('scan/one-channel', {
    found: `${layout.columns.length} column(s), of which fewer than two hold numbers`,
    needed: 'two columns of numbers at least, x (in phase) and y (quadrature)',
    remedy: 'export both parts of the signal',
    where: { file }
  })
