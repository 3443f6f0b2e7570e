/** Text recordings: a row a sample, cells between separators (CSV, TSV and their kin). */
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { Format, Head, Layout, RawColumn, TableReader } from '../format.ts'
import { looksLikeText } from './delimited/encoding.ts'
import { RowReader } from './delimited/reader.ts'
import { type Sheet, type SourceColumn, sheetOf } from './delimited/sheet.ts'
import { joined } from './joined.ts'

function survey(head: Head): Result<Layout> {
  const sheet = sheetOf(head)
  return isRefusal(sheet) ? sheet : layoutOf(sheet, head)
}

function layoutOf(sheet: Sheet, head: Head): Layout {
  const values = headValues(sheet, head)
  return {
    columns: sheet.columns.map((column, number) => rawColumn(sheet, column, values[number] ?? new Float64Array(0))),
    headerRows: sheet.headers.length,
    ...(sheet.rate === undefined ? {} : { rate: sheet.rate }),
    notes: sheet.notes,
    doubts: sheet.doubts,
    details: {
      encoding: sheet.encoding,
      separator: SEPARATOR_NAMES[sheet.style.separator],
      decimal: sheet.style.decimal,
      ...(sheet.style.thousands === undefined ? {} : { thousands: sheet.style.thousands })
    }
  }
}

const SEPARATOR_NAMES = { ',': 'comma', ';': 'semicolon', '\t': 'tab', '|': 'bar', ' ': 'blanks' } as const

function rawColumn(sheet: Sheet, column: SourceColumn, values: Float64Array): RawColumn {
  const { cell, kind, names } = column
  return {
    names,
    kind,
    ...(kind === 'real' || kind === 'imaginary' ? { pair: cell } : {}),
    ...(kind === 'clock' && sheet.period_s !== undefined ? { period_s: sheet.period_s } : {}),
    values,
    sample: sheet.sample.map((row) => row[cell] ?? '')
  }
}

/** The numbers of the head, by the reader itself; an unfinished last line is left out, and so are texts. */
function headValues(sheet: Sheet, head: Head): readonly Float64Array[] {
  const columns = sheet.columns.filter((column) => column.kind !== 'text')
  const reader = new RowReader({ sheet, columns, size: head.bytes.length })
  const tables = reader.push(head.bytes)
  if (isRefusal(tables)) return []
  const rest = head.size === undefined || head.size <= head.bytes.length ? reader.end() : undefined
  const all = rest === undefined || isRefusal(rest) ? tables : [...tables, ...rest.tables]
  return sheet.columns.map((column) => joined(all.flatMap((table) => table.columns[columns.indexOf(column)] ?? [])))
}

function open(head: Head, columns: readonly number[]): Result<TableReader> {
  const sheet = sheetOf(head)
  if (isRefusal(sheet)) return sheet
  const wanted = columns.map((column) => sheet.columns[column] as SourceColumn)
  return new RowReader({ sheet, columns: wanted, ...(head.size === undefined ? {} : { size: head.size }) })
}

export const delimited: Format = { name: 'delimited', recognise: (head) => looksLikeText(head.bytes), survey, open }
