import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { declaredTrackGroups } from '@trueloop/job/interpret'
import type { TrackScore } from '@trueloop/job/rehearse'
import { FACTORS } from '../plateau.ts'
import { type ScoredWelds, weldsWith } from './score.ts'
import { shiftedWeldLine } from './text.ts'

/** The lines of a plateau over welds: each declared number of tracks at each factor, one at a time. */
export function* weldPlateau({ job, standardization }: ScoredWelds): Generator<Result<string>> {
  let [least, most, deepest] = [Number.POSITIVE_INFINITY, 0, 0]
  let numbers = 0
  for (const [group, declared] of Object.entries(declaredTrackGroups))
    for (const [name, { value }] of Object.entries(declared)) {
      numbers++
      for (const factor of FACTORS) {
        const with_ = weldsWith(job, standardization, { [group]: { [name]: factor * value } })
        if (isRefusal(with_)) {
          yield with_
          return
        }
        const { score } = with_
        least = Math.min(least, score.foundDue)
        most = Math.max(most, score.falseCalls)
        deepest = Math.max(deepest, depthOf(score))
        yield shiftedWeldLine({ group, name, factor, value: factor * value }, score)
      }
    }
  yield `${numbers} declared numbers of welds moved, one at a time: at least ${least} due flaws found, at most ${most} false calls, depth within ${deepest.toFixed(3)} mm in the mean`
}

const depthOf = ({ depthMae_mm }: TrackScore): number => depthMae_mm ?? 0
