import { compareInstruments, compareInstrumentsAgain, type GivenPair, instrumentBlocks } from '@trueloop/job/prove'
import { type Rows, studyDoor } from './door.ts'
import { numberOr, type RowsFrom, tableRows } from './table-rows.ts'

/** Readings of two instruments from a table. */
async function pairRows(from: RowsFrom): Promise<Rows<GivenPair>> {
  const read = await tableRows(from, { needed: ['first', 'second'], other: ['unit'] })
  if ('refusals' in read) return read
  const rows = read.rows.map(({ row, of: { first, second, unit } }) => ({
    ...{ row, first: numberOr(first), second: numberOr(second), unit: unit ?? from.unit }
  }))
  return { rows, isReal: true }
}

export const instruments = studyDoor({
  name: 'instruments',
  kind: 'instruments-result',
  summary: 'Says how far two instruments differ on the same parts.',
  table: 'first, second; unit',
  fromTable: pairRows,
  prove: compareInstruments,
  again: compareInstrumentsAgain,
  blocks: (result) => instrumentBlocks(result),
  isStated: ({ isWithinAllowed }) => isWithinAllowed !== false
})
