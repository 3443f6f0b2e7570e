import { type GivenReading, gaugeBlocks, proveGauge, proveGaugeAgain } from '@trueloop/job/prove'
import { type Rows, studyDoor } from './door.ts'
import { numberOr, type RowsFrom, tableRows } from './table-rows.ts'

/** Readings of parts by operators from a table. */
async function readingRows(from: RowsFrom): Promise<Rows<GivenReading>> {
  const read = await tableRows(from, { needed: ['part', 'operator', 'reading'], other: ['unit'] })
  if ('refusals' in read) return read
  const rows = read.rows.map(({ row, of: { part, operator, reading, unit } }) => ({
    ...{ row, part, operator, reading: numberOr(reading), unit: unit ?? from.unit }
  }))
  return { rows, isReal: true }
}

export const gauge = studyDoor({
  name: 'gauge',
  kind: 'gauge-result',
  summary: 'Says how much of the scatter of readings is of the gauge and its operators.',
  table: 'part, operator, reading; unit',
  fromTable: readingRows,
  prove: proveGauge,
  again: proveGaugeAgain,
  blocks: (result) => gaugeBlocks(result),
  isStated: () => true
})
