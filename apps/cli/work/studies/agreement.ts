import {
  agreementBlocks,
  closedCallsOf,
  type GivenCall,
  proveAgreement,
  proveAgreementAgain
} from '@trueloop/job/prove'
import { type Rows, studyDoor } from './door.ts'
import { type RowsFrom, tableRows } from './table-rows.ts'

/** Calls of inspectors from a table. */
async function callRows(from: RowsFrom): Promise<Rows<GivenCall>> {
  const read = await tableRows(from, { needed: ['site', 'inspector', 'call'], other: ['truth'] })
  if ('refusals' in read) return read
  const rows = read.rows.map(({ row, of: { site, inspector, call, truth } }) => ({
    ...{ row, site, inspector, call, ...(truth === undefined ? {} : { truth }) }
  }))
  return { rows, isReal: true }
}

export const agreement = studyDoor({
  name: 'agreement',
  kind: 'agreement-result',
  summary: 'Says how well inspectors agree beyond chance, and each with the truth.',
  table: 'site, inspector, call; truth',
  fromTable: callRows,
  fromTrial: closedCallsOf,
  prove: proveAgreement,
  again: proveAgreementAgain,
  blocks: (result) => agreementBlocks(result),
  isStated: ({ all }) => !('code' in all)
})
