import { closedSignalsOf, proveSweep, proveSweepAgain, sweepBlocks } from '@trueloop/job/prove'
import { studyDoor } from './door.ts'
import { sweepPoints } from './points.ts'
import { signalRows } from './signals.ts'

export const thresholds = studyDoor({
  name: 'thresholds',
  kind: 'sweep-result',
  summary: 'Says what sizes and false calls other thresholds would give, before the next trial.',
  table: 'as for signals',
  fromTable: signalRows,
  fromTrial: closedSignalsOf,
  prove: proveSweep,
  again: proveSweepAgain,
  blocks: (result) => sweepBlocks(result),
  points: sweepPoints,
  isStated: () => true
})
