import type { Refusal } from '@trueloop/ground/refusal'
import { momentOf, pathText } from '@trueloop/job/plan'
import { now } from '../clock/index.ts'
import { refuse } from './codes.ts'
import type { ChainInput } from './context.ts'

/** Two clocks that are kept right differ by less, s. */
const SLACK_s = 120

/** A time without an offset may be of any place on earth: the day begins 14 h before UTC there. */
const EARLIEST_PLACE_s = 14 * 3600

/** A scan can't have been taken after now: certificates hold on days. Refuses chain/in-the-future, each at its line. */
export function inTheFuture({ sheet, place = (one) => one, clock = now }: ChainInput): readonly Refusal[] {
  const { time } = clock()
  const present = momentOf(time)
  // the days of a demonstration are invented, like all of it
  if (present === undefined || sheet.job.demonstration) return []
  return sheet.recordings.flatMap(({ taken }, index) => {
    const moment = taken === undefined ? undefined : momentOf(taken)
    if (taken === undefined || moment === undefined) return []
    const latest = present.seconds + (moment.hasOffset ? SLACK_s : EARLIEST_PLACE_s)
    return moment.seconds <= latest ? [] : [place(future(taken, time, index))]
  })
}

const future = (taken: string, time: string, index: number): Refusal =>
  refuse('chain/in-the-future', {
    found: `taken at ${taken}, while the clock of this computer says ${time}`,
    needed: 'a recording that was taken before now',
    remedy: 'correct the time, or set the clock of this computer right',
    where: { path: pathText(['recordings', index, 'taken']) }
  })
