import type { Entry, EntryRow } from '@trueloop/job/record'
import type { Pace } from '../api/schemas/index.ts'

/** When people have decided today, and how long without a break. From the record alone; there is no target. */

/** A gap of so many minutes between two decisions counts as a break. Common practice, no source. */
export const break_min = 15

const deciding: readonly Entry['kind'][] = [
  ...(['interpreted', 'disposed', 'second-look', 'place-closed', 'left-out'] as const)
]

type Decision = Extract<Entry, { readonly subject: unknown }>

/** `day`: as 2026-03-14, of the clock on the wall, as the entries have it. */
export function paceOf(rows: readonly EntryRow[], day: string): Pace {
  const all = rows
    .filter(({ kind }) => deciding.some((one) => one === kind))
    .map(({ body }) => JSON.parse(body) as Decision)
    .filter(({ at }) => at.time.startsWith(day))
  const names = [...new Set(all.map(({ by }) => by.name))]
  return {
    day,
    break_min,
    people: names.map((name) =>
      paceBy(
        name,
        all.filter(({ by }) => by.name === name)
      )
    )
  }
}

/** Entries of one statement are one decision. */
function paceBy(name: string, all: readonly Decision[]): Pace['people'][number] {
  const decisions = all.filter(({ at, subject }, k) => {
    const before = all[k - 1]
    return before === undefined || before.at.time !== at.time || before.subject.name !== subject.name
  })
  const stretches = stretchesOf(decisions.map(({ at }) => at.time))
  const longest = [...stretches].sort((a, b) => b.minutes - a.minutes)[0]
  const latest = stretches.at(-1)
  return {
    name,
    decisions: decisions.map(({ at, kind, subject }) => ({ at: at.time, kind, of: subject.of, place: subject.name })),
    ...(longest === undefined || latest === undefined ? {} : { longest, latest })
  }
}

type Stretch = NonNullable<Pace['people'][number]['longest']>

function stretchesOf(times: readonly string[]): readonly Stretch[] {
  const all: Stretch[] = []
  for (const time of times) {
    const last = all.at(-1)
    if (last === undefined || minutesFrom(last.until, time) > break_min)
      all.push({ from: time, until: time, minutes: 0 })
    else all[all.length - 1] = { from: last.from, until: time, minutes: Math.round(minutesFrom(last.from, time)) }
  }
  return all
}

const minutesFrom = (from: string, until: string): number => (Date.parse(until) - Date.parse(from)) / 60_000
