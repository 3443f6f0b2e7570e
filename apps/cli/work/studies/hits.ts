import { isRefusal } from '@trueloop/ground/refusal'
import { closedRowsOf, type GivenRow, hitMissBlocks, proveAgain, proveHitMiss } from '@trueloop/job/prove'
import { countedRows } from './counted.ts'
import { type Rows, studyDoor } from './door.ts'
import { hitText } from './hit-text.ts'
import { hitPoints } from './points.ts'
import { numberOr, type RowsFrom, tableRows, unitOf } from './table-rows.ts'

/** Rows of hits and misses from a table: a row a look, or counts of flaws of one size (`hits`, `of`). */
export async function hitRows(from: RowsFrom): Promise<Rows<GivenRow>> {
  const counted = await countedRows(from)
  if (counted !== undefined) return counted
  const read = await tableRows(from, { needed: ['size', 'hit', 'specimen'], other: ['flaw', 'inspector', 'unit'] })
  if ('refusals' in read) return read
  const unit = unitOf(from, read.rows)
  if (isRefusal(unit)) return { refusals: [unit] }
  const rows = read.rows.map((named): GivenRow => {
    const { size, hit, specimen, flaw, inspector } = named.of
    return { row: named.row, size: numberOr(size), hit: numberOr(hit), specimen, unit: unit(named), flaw, inspector }
  })
  return { rows, isReal: true }
}

export const hits = studyDoor({
  name: 'hits',
  kind: 'hit-miss-result',
  summary: 'Says what size is found, by hits and misses, with the bounds of several methods.',
  table: 'size, hit, specimen; flaw, inspector, unit; or size, hits, of',
  fromTable: hitRows,
  fromTrial: closedRowsOf,
  prove: proveHitMiss,
  again: proveAgain,
  blocks: (result) => hitMissBlocks(result),
  text: hitText,
  points: hitPoints,
  isStated: ({ stated_m }) => !isRefusal(stated_m)
})
