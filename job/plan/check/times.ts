import type { Refusal } from '@trueloop/ground/refusal'
import { isDay, type Moment, momentOf } from '../calendar.ts'
import { refuse } from '../codes.ts'
import type { Sheet } from '../sheet.ts'
import { pathText, type Step } from '../where.ts'

/** Days and times: in the calendar, and in the order in which things can have happened. */

export function checkDays(sheet: Sheet): readonly Refusal[] {
  const days: readonly (readonly [Step[], string | undefined])[] = [
    [['job', 'opened'], sheet.job.opened],
    [['confirmed', 'on'], sheet.confirmed?.on]
  ]
  return days.flatMap(([steps, day]) => (day === undefined || isDay(day) ? [] : [noSuchDay(day, steps)]))
}

const noSuchDay = (day: string, steps: readonly Step[]): Refusal =>
  refuse('plan/bad-value', {
    found: `${day}, which no calendar has`,
    needed: 'a day of the calendar',
    remedy: 'correct the day',
    where: { path: pathText(steps) }
  })

interface Stamp {
  readonly index: number
  readonly text: string
  readonly moment: Moment
}

export function checkTimes(sheet: Sheet): readonly Refusal[] {
  const stamps = sheet.recordings.flatMap(({ taken }, index) => {
    const moment = taken === undefined ? undefined : momentOf(taken)
    return taken === undefined || moment === undefined ? [] : [{ index, text: taken, moment }]
  })
  const followed = stamps.slice(1).flatMap((stamp, at) => outOfOrder(stamps[at] as Stamp, stamp))
  return [...followed, ...stamps.flatMap((stamp) => beforeDays(stamp, sheet))]
}

const takenPath = (index: number): string => pathText(['recordings', index, 'taken'])

function outOfOrder(before: Stamp, stamp: Stamp): readonly Refusal[] {
  if (before.moment.hasOffset !== stamp.moment.hasOffset) return [mixed(before, stamp)]
  if (before.moment.seconds <= stamp.moment.seconds) return []
  return [
    refuse('plan/dates-out-of-order', {
      found: `${stamp.text}, before ${before.text} of recordings[${before.index}]`,
      needed: 'recordings in the order in which they were taken: rechecks void what came before them',
      remedy: 'correct the time or the order',
      where: { path: takenPath(stamp.index) }
    })
  ]
}

const mixed = (before: Stamp, stamp: Stamp): Refusal =>
  refuse('plan/bad-value', {
    found: `${before.text} and ${stamp.text}: one with an offset from UTC, one without`,
    needed: 'all times with an offset, or none: their order cannot be told otherwise',
    remedy: 'write the offset to all times, for example +01:00 or Z',
    where: { path: takenPath(stamp.index) }
  })

/** Days are days of the clock on the wall where the recording was taken. */
function beforeDays({ index, text }: Stamp, sheet: Sheet): readonly Refusal[] {
  const limits: readonly (readonly [string, string | undefined])[] = [
    ['the job was opened', sheet.job.opened],
    ['the technique was confirmed', sheet.confirmed?.on]
  ]
  return limits.flatMap(([what, day]) => {
    if (day === undefined || text.slice(0, 10) >= day) return []
    return [
      refuse('plan/dates-out-of-order', {
        found: `${text}, before ${day}, when ${what}`,
        needed: `a recording taken on or after the day on which ${what}`,
        remedy: 'correct the day or the time',
        where: { path: takenPath(index) }
      })
    ]
  })
}
