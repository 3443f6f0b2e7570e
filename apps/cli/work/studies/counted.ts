import { isRefusal, type Refusal, refuser } from '@trueloop/ground/refusal'
import type { GivenRow } from '@trueloop/job/prove'
import { codes } from '../../codes.ts'
import type { Rows } from './door.ts'
import { type NamedRow, numberOr, type RowsFrom, tableRows, unitOf } from './table-rows.ts'

const refuse = refuser(codes)

/** More flaws than these in one table are no counts of specimens. */
const MOST = 1_000_000

/**
 * Counts of different flaws of one size, each looked at once, as rows: so many hits of so many. Undefined where the table
 * has no such counts. Refuses: as tableRows, cli/no-unit, cli/no-counts.
 */
export async function countedRows(from: RowsFrom): Promise<Rows<GivenRow> | undefined> {
  const read = await tableRows(from, {
    needed: [],
    other: ['size', 'hit', 'hits', 'of', 'unit', 'inspector', 'specimen', 'flaw']
  })
  if ('refusals' in read) return undefined
  if (!read.rows.every(({ of }) => of.size !== undefined && of.hits !== undefined && of.of !== undefined))
    return undefined
  const unit = unitOf(from, read.rows)
  if (isRefusal(unit)) return { refusals: [unit] }
  const wrong = read.rows.filter((row) => countsOf(row) === undefined)
  if (wrong.length > 0) return { refusals: wrong.map((row) => noCounts(from.path, row)) }
  const all = read.rows.reduce((sum, row) => sum + (countsOf(row)?.of ?? 0), 0)
  if (all > MOST) return { refusals: [tooMany(from.path, all)] }
  return { isReal: true, rows: read.rows.flatMap((row) => expanded(row, unit(row))) }
}

interface Counts {
  readonly hits: number
  readonly of: number
}

function countsOf({ of: cells }: NamedRow): Counts | undefined {
  const [hits, of] = [numberOr(cells.hits), numberOr(cells.of)]
  const isCount = (value: unknown): value is number => Number.isInteger(value) && (value as number) >= 0
  return isCount(hits) && isCount(of) && hits <= of && of > 0 ? { hits, of } : undefined
}

function expanded(named: NamedRow, unit: string | undefined): readonly GivenRow[] {
  const { hits, of } = countsOf(named) as Counts
  const size = numberOr(named.of.size)
  return Array.from({ length: of }, (_, at) => {
    const row = `${named.row}, ${at + 1}`
    return { row, size, unit, hit: at < hits, specimen: row, inspector: named.of.inspector }
  })
}

const noCounts = (file: string, { row, of }: NamedRow): Refusal =>
  refuse('cli/no-counts', {
    found: `"${of.hits ?? ''}" hits of "${of.of ?? ''}"`,
    needed: 'whole numbers: how many of how many different flaws of this size were found',
    remedy: 'correct the counts; a look each in a row of its own does as well (size, hit, specimen)',
    where: { file, line: Number(row.replace('line ', '')) }
  })

const tooMany = (file: string, found: number): Refusal =>
  refuse('cli/no-counts', {
    found: `${found} flaws in one table`,
    needed: `at most ${MOST}`,
    remedy: 'look for a count that is something else',
    where: { file }
  })
