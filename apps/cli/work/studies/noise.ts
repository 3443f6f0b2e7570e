import { type GivenNoise, noiseBlocks, proveNoise, proveNoiseAgain } from '@trueloop/job/prove'
import { type Rows, studyDoor } from './door.ts'
import { numberOr, type RowsFrom, tableRows } from './table-rows.ts'

/** Readings without a flaw from a table. */
async function noiseRows(from: RowsFrom): Promise<Rows<GivenNoise>> {
  const read = await tableRows(from, { needed: ['reading'], other: ['unit'] })
  if ('refusals' in read) return read
  const rows = read.rows.map(({ row, of: { reading, unit } }) => ({
    ...{ row, reading: numberOr(reading), unit: unit ?? from.unit }
  }))
  return { rows, isReal: true }
}

export const noise = studyDoor({
  name: 'noise',
  kind: 'noise-result',
  summary: 'Says which threshold noise alone passes with a given chance.',
  table: 'reading; unit',
  fromTable: noiseRows,
  prove: proveNoise,
  again: proveNoiseAgain,
  blocks: (result) => noiseBlocks(result),
  isStated: () => true
})
