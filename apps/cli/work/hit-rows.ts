import { isRefusal, type Refusal, refuser } from '@trueloop/ground/refusal'
import { readPlainFile } from '@trueloop/host/sheet'
import { columnOf, readTable, type Table } from '@trueloop/host/table'
import { closedRowsOf, type FlawKind, type GivenRow } from '@trueloop/job/prove'
import { codes } from '../codes.ts'

const refuse = refuser(codes)

export interface RowsWanted {
  /** unit of the sizes, where the table has no column for it */
  readonly unit?: string | undefined
  /** of a closed trial, the kind that is asked about */
  readonly kind?: string | undefined
}

/** `isReal` false: the trial says that its flaws were none. Of a table only the study says it. */
type Rows = { readonly rows: readonly GivenRow[]; readonly isReal: boolean } | { readonly refusals: readonly Refusal[] }

/** Rows of hits and misses from a table, or from a closed trial (JSON). Nothing is trusted yet. */
export const hitRows = (path: string, wanted: RowsWanted): Promise<Rows> =>
  /\.json$/i.test(path) ? fromTrial(path, wanted) : fromTable(path, wanted)

async function fromTrial(path: string, { kind }: RowsWanted): Promise<Rows> {
  const file = await readPlainFile(path, {
    needed: 'a closed trial, or a table as CSV',
    remedy: 'name the file that "prove close" wrote'
  })
  if ('refusals' in file) return file
  const closed = closedRowsOf(file.value, kind as FlawKind | undefined)
  return 'refusals' in closed ? { refusals: closed.refusals.map(file.place) } : closed
}

async function fromTable(path: string, { unit }: RowsWanted): Promise<Rows> {
  const table = await readTable(path)
  if (isRefusal(table)) return { refusals: [table] }
  const found = ['size', 'hit', 'specimen'].map((name) => columnOf(table, name))
  const refusals = found.filter((one) => isRefusal(one)) as readonly Refusal[]
  const units = table.columns.indexOf('unit')
  if (refusals.length > 0) return { refusals }
  if (units < 0 && unit === undefined) return { refusals: [noUnit(table)] }
  const [size, hit, specimen] = found as number[]
  const at = (cells: readonly string[], name: string): string | undefined => cells[table.columns.indexOf(name)]
  return {
    isReal: true,
    rows: table.rows.map(({ line, cells }) => ({
      row: `line ${line}`,
      ...{ size: numberOr(cells[size!]!), hit: numberOr(cells[hit!]!), specimen: cells[specimen!]! },
      ...{ unit: units < 0 ? unit : cells[units]!, flaw: at(cells, 'flaw'), inspector: at(cells, 'inspector') }
    }))
  }
}

/** What is no number stays what it is: the rows' own rules say what is wrong with it. An empty cell is nothing. */
const numberOr = (cell: string): unknown => {
  if (cell === '') return undefined
  const value = Number(cell)
  return Number.isNaN(value) && !/^nan$/i.test(cell) ? cell : value
}

const noUnit = ({ file }: Table): Refusal =>
  refuse('cli/no-unit', {
    found: 'sizes without a unit',
    needed: 'a column "unit", or --unit',
    remedy: 'say what the sizes are in: mm or in',
    where: { file }
  })
