import { isRefusal, type Refusal, type Result, refuser } from '@trueloop/ground/refusal'
import { columnOf, readTable, type Table } from '@trueloop/host/table'
import { codes } from '../../codes.ts'

const refuse = refuser(codes)

/** Where the rows of a study come from, and what its table does not say itself. */
export interface RowsFrom {
  readonly path: string
  /** unit of the sizes, where the table has no column for it */
  readonly unit?: string | undefined
  /** of a closed trial, the kind that is asked about */
  readonly kind?: string | undefined
  /** names of ours to headers of the table, where these differ */
  readonly columns?: Readonly<Record<string, string>> | undefined
}

/** Columns by our names. */
export interface Columns {
  readonly needed: readonly string[]
  readonly other: readonly string[]
}

/** A row of a table by our names of its columns; undefined where there is no such column. */
export interface NamedRow {
  readonly row: string
  readonly of: Readonly<Record<string, string | undefined>>
}

/** Rows of a table by our names. Refuses: as readTable, table/no-column, cli/no-such-column. */
export async function tableRows(
  { path, columns: headers = {} }: RowsFrom,
  columns: Columns
): Promise<{ readonly rows: readonly NamedRow[] } | { readonly refusals: readonly Refusal[] }> {
  const all = [...columns.needed, ...columns.other]
  const strange = Object.keys(headers).find((name) => !all.includes(name))
  if (strange !== undefined) return { refusals: [noSuchColumn(strange, all)] }
  const table = await readTable(path)
  if (isRefusal(table)) return { refusals: [table] }
  const asked = all.filter((name) => columns.needed.includes(name) || name in headers)
  const missing = asked.map((name) => columnOf(table, headers[name] ?? name)).filter((one) => isRefusal(one))
  if (missing.length > 0) return { refusals: missing as readonly Refusal[] }
  return { rows: namedRows(table, all, headers) }
}

function namedRows(
  table: Table,
  all: readonly string[],
  headers: Readonly<Record<string, string>>
): readonly NamedRow[] {
  const places = all.map((name) => [name, table.columns.indexOf(headers[name] ?? name)] as const)
  return table.rows.map(({ line, cells }) => ({
    row: `line ${line}`,
    of: Object.fromEntries(places.map(([name, at]) => [name, at < 0 ? undefined : cells[at]]))
  }))
}

/** What is no number stays what it is: the rows' own rules say what is wrong with it. An empty cell is nothing. */
export function numberOr(cell: string | undefined): unknown {
  if (cell === undefined || cell === '') return undefined
  const value = Number(cell)
  return Number.isNaN(value) && !/^nan$/i.test(cell) ? cell : value
}

/** The unit of a size: its own, or the one that is said for all. Refuses cli/no-unit. */
export function unitOf(
  { path, unit }: RowsFrom,
  rows: readonly NamedRow[]
): Result<(row: NamedRow) => string | undefined> {
  const has = rows.some(({ of }) => of.unit !== undefined)
  if (!has && unit === undefined) return noUnit(path)
  return ({ of }) => (has ? of.unit : unit)
}

const noUnit = (file: string): Refusal =>
  refuse('cli/no-unit', {
    found: 'sizes without a unit',
    needed: 'a column "unit", or --unit',
    remedy: 'say what the sizes are in: mm or in',
    where: { file }
  })

const noSuchColumn = (name: string, all: readonly string[]): Refusal =>
  refuse('cli/no-such-column', {
    found: `a header for "${name}"`,
    needed: `a header for one of ${all.join(', ')}`,
    remedy: 'write --column name=header, the name one of these'
  })
