import { closedSignalsOf, operatingBlocks, proveOperatingPoints, proveOperatingPointsAgain } from '@trueloop/job/prove'
import { studyDoor } from './door.ts'
import { operatingPoints } from './points.ts'
import { signalRows } from './signals.ts'

export const operating = studyDoor({
  name: 'operating-points',
  kind: 'operating-points-result',
  summary: 'Says hits and false calls over thresholds.',
  table: 'as for signals',
  fromTable: signalRows,
  fromTrial: closedSignalsOf,
  prove: proveOperatingPoints,
  again: proveOperatingPointsAgain,
  blocks: (result) => operatingBlocks(result),
  points: operatingPoints,
  isStated: () => true
})
