/** The only clock of the house. Below `host` a moment is an argument. */
export interface Moment {
  readonly time: string
  readonly known: 'clock of this computer'
}

/** Now, as ISO 8601 in UTC with milliseconds, and how it is known: a computer's clock may be wrong. */
export const now = (): Moment => ({ time: new Date().toISOString(), known: 'clock of this computer' })

const two = (value: number): string => String(value).padStart(2, '0')

/** The same with the clock on the wall and its offset from UTC: certificates hold on days of the wall. */
export function wallClock(at: Date = new Date()): Moment {
  const offset_min = -at.getTimezoneOffset()
  const wall = new Date(at.getTime() + 60_000 * offset_min).toISOString().slice(0, -1)
  const ahead = Math.abs(offset_min)
  const sign = offset_min < 0 ? '-' : '+'
  return {
    time: `${wall}${sign}${two(Math.floor(ahead / 60))}:${two(ahead % 60)}`,
    known: 'clock of this computer'
  }
}

/** Today on the wall, as 2026-03-14. */
export const today = (at: Date = new Date()): string => wallClock(at).time.slice(0, 10)
