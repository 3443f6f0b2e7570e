import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { CsvError, parse } from 'csv-parse/sync'
import { textOf } from '../sheet/index.ts'
import { refuse } from './codes.ts'

/** A table of text with a header: nothing in it is a number yet. */
export interface Table {
  readonly file: string
  readonly columns: readonly string[]
  readonly rows: readonly TableRow[]
}

export interface TableRow {
  /** Line of the file on which the row ends. */
  readonly line: number
  readonly cells: readonly string[]
}

/**
 * Reads a table (CSV, RFC 4180; commas, semicolons or tabs, whichever the header has most of). Cells lose the blanks around
 * them, empty rows are left out. Refuses: sheet/no-file, sheet/too-large, sheet/not-text, table/empty, table/doubled-column,
 * table/not-a-table.
 */
export async function readTable(file: string): Promise<Result<Table>> {
  const text = await textOf(file)
  return isRefusal(text) ? ofTable(text) : tableOf(text, file)
}

/** The same from text. */
export function tableOf(text: string, file: string): Result<Table> {
  const records = recordsOf(text, file)
  if (isRefusal(records)) return records
  const [header, ...rows] = records
  if (header === undefined || rows.length === 0) return empty(file)
  const columns = header.cells
  const twice = columns.find((name, at) => name === '' || columns.indexOf(name) < at)
  return twice === undefined ? { file, columns, rows } : doubled(file, twice)
}

interface Parsed {
  readonly record: readonly string[]
  readonly info: { readonly lines: number }
}

function recordsOf(text: string, file: string): Result<readonly TableRow[]> {
  try {
    const parsed = parse(text, {
      ...{ bom: true, info: true, trim: true, skip_empty_lines: true, skip_records_with_empty_values: true },
      delimiter: separatorOf(text)
    }) as unknown as readonly Parsed[]
    return parsed.map(({ record, info }) => ({ line: info.lines, cells: record }))
  } catch (error) {
    if (error instanceof CsvError) return notATable(file, error)
    throw error
  }
}

const separators = [',', ';', '\t'] as const

function separatorOf(text: string): string {
  const [header = ''] = text.split(/[\r\n]/, 1)
  const count = (separator: string): number => header.split(separator).length
  return separators.reduce((most, one) => (count(one) > count(most) ? one : most), ',' as string)
}

/** The column of a name. Refuses: table/no-column. */
export function columnOf({ file, columns }: Table, name: string): Result<number> {
  const at = columns.indexOf(name)
  if (at >= 0) return at
  return refuse('table/no-column', {
    found: `columns ${columns.join(', ')}`,
    needed: `a column "${name}"`,
    remedy: 'correct the header, or say which column it is',
    where: { file }
  })
}

const ofTable = (refusal: Refusal): Refusal => ({
  ...refusal,
  needed: 'a table as text in UTF-8, its first row the header',
  remedy: 'correct the path, or save the table as CSV in UTF-8'
})

const empty = (file: string): Refusal =>
  refuse('table/empty', {
    found: 'no row below the header',
    needed: 'a header and a row at least',
    remedy: 'name the file that holds the results',
    where: { file }
  })

const doubled = (file: string, name: string): Refusal =>
  refuse('table/doubled-column', {
    found: name === '' ? 'a column without a name' : `two columns "${name}"`,
    needed: 'a name of its own for each column',
    remedy: 'correct the header',
    where: { file, line: 1 }
  })

const notATable = (file: string, error: CsvError): Refusal => {
  const { lines } = error as unknown as { readonly lines?: number }
  return refuse('table/not-a-table', {
    found: error.message,
    needed: 'as many cells in every row as in the header, and quotes that are closed',
    remedy: 'put a text that holds the separator into quotes, or fill what is missing',
    where: lines === undefined ? { file } : { file, line: lines }
  })
}
