import { isRefusal } from '@trueloop/ground/refusal'
import {
  closedSignalsOf,
  type GivenSignalRow,
  proveSignal,
  proveSignalAgain,
  signalBlocks,
  signalsUsed
} from '@trueloop/job/prove'
import { type Rows, studyDoor } from './door.ts'
import { signalPoints } from './points.ts'
import { numberOr, type RowsFrom, tableRows, unitOf } from './table-rows.ts'

const columns = {
  needed: ['size', 'signal', 'specimen'],
  other: ['flaw', 'inspector', 'unit', 'signal_unit', 'limit']
}

/** Rows of signals from a table. */
export async function signalRows(from: RowsFrom): Promise<Rows<GivenSignalRow>> {
  const read = await tableRows(from, columns)
  if ('refusals' in read) return read
  const unit = unitOf(from, read.rows)
  if (isRefusal(unit)) return { refusals: [unit] }
  const rows = read.rows.map((named): GivenSignalRow => {
    const { size, signal, specimen, flaw, inspector, signal_unit, limit } = named.of
    return {
      ...{ row: named.row, size: numberOr(size), unit: unit(named), specimen, flaw, inspector },
      ...{ signal: numberOr(signal), signal_unit, ...(limit === undefined ? {} : { limit }) }
    }
  })
  return { rows, isReal: true }
}

export const signals = studyDoor({
  name: 'signals',
  kind: 'signal-response-result',
  summary: 'Says what size is found, by signals over sizes and a threshold.',
  table: 'size, signal, specimen; flaw, inspector, unit, signal_unit, limit (below, above)',
  fromTable: signalRows,
  fromTrial: closedSignalsOf,
  prove: proveSignal,
  again: proveSignalAgain,
  blocks: (result, rows) => signalBlocks(result, signalsUsed(rows, result.study)),
  points: signalPoints,
  isStated: ({ stated_m }) => !isRefusal(stated_m)
})
