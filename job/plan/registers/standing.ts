import { daysFrom } from '../calendar.ts'
import type { Span } from './register.ts'
import { type RegisterRow, spansOfRow } from './rows.ts'

/** How a row stands on a day of the calendar. Days are days of the clock on the wall: no clock and no zone come in. */

export type StandingName = 'in force' | 'falls due' | 'expired' | 'not yet in force'

/** Within so many days from the day itself something falls due: a month to have it renewed. Our own number. */
export const dueWithin_days = 30

/** How one thing of a row (a certificate, near vision) stands on a day. */
export interface SpanStanding {
  readonly of: string
  readonly standing: StandingName
  /** the first day on which it holds */
  readonly from?: string
  /** the last day on which it holds, or the first on which it does not: `ends` */
  readonly until?: string
  readonly ends?: boolean
  /** days from the day asked for to the last one on which it holds; negative: so many days ago */
  readonly left_days?: number
}

/** Every thing of a row that has a time, on a day. */
export const standingsOn = (row: RegisterRow, day: string): readonly SpanStanding[] =>
  spansOfRow(row).map((span) => spanOn(span, day))

function spanOn({ of, from, until, ends }: Span, day: string): SpanStanding {
  const lasts = [
    ...(until === undefined ? [] : [{ until: until.day, left_days: daysFrom(day, until.day) }]),
    ...(ends === undefined ? [] : [{ until: ends.day, ends: true, left_days: daysFrom(day, ends.day) - 1 }])
  ]
  const last = lasts.sort((a, b) => a.left_days - b.left_days)[0]
  const starts = from === undefined ? {} : { from: from.day }
  const isEarly = from !== undefined && daysFrom(day, from.day) > 0
  return { of, ...starts, ...last, standing: nameOf(isEarly, last?.left_days) }
}

function nameOf(isEarly: boolean, left_days: number | undefined): StandingName {
  if (left_days !== undefined && left_days < 0) return 'expired'
  if (isEarly) return 'not yet in force'
  return left_days !== undefined && left_days <= dueWithin_days ? 'falls due' : 'in force'
}

const worstFirst: readonly StandingName[] = ['expired', 'not yet in force', 'falls due', 'in force']

/**
 * How a row stands on a day: the worst of what it has. The last day itself still holds; a thing falls due within
 * `dueWithin_days` of it, the day itself and the thirtieth included.
 */
export function standingOf(row: RegisterRow, day: string): StandingName {
  const all = standingsOn(row, day).map(({ standing }) => standing)
  return worstFirst.find((one) => all.includes(one)) ?? 'in force'
}
