/** Days and times as the sheet writes them (ISO 8601), compared without a clock and without a time zone's data. */

const daysBefore = [0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334]

const isLeap = (year: number): boolean => (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0

const daysIn = (year: number, month: number): number =>
  month === 2 ? (isLeap(year) ? 29 : 28) : [4, 6, 9, 11].includes(month) ? 30 : 31

/** Whether 2026-02-29 and the like are in the Gregorian calendar. */
export function isDay(text: string): boolean {
  const [, year, month, day] = /^(\d{4})-(\d\d)-(\d\d)/.exec(text) ?? []
  const [y, m, d] = [Number(year), Number(month), Number(day)]
  return m >= 1 && m <= 12 && d >= 1 && d <= daysIn(y, m)
}

/** Days from 0000-01-01 to the day, Gregorian. */
function dayNumber(text: string): number {
  const [y, m, d] = [Number(text.slice(0, 4)), Number(text.slice(5, 7)), Number(text.slice(8, 10))]
  const before =
    y === 0 ? 0 : 365 * y + Math.floor((y - 1) / 4) - Math.floor((y - 1) / 100) + Math.floor((y - 1) / 400) + 1
  return before + (daysBefore[m - 1] ?? 0) + (m > 2 && isLeap(y) ? 1 : 0) + d - 1
}

/** Days from one day to another; negative where the other lies before it. */
export const daysFrom = (from: string, to: string): number => dayNumber(to) - dayNumber(from)

export interface Moment {
  /** seconds from 0000-01-01T00:00 of the clock on the wall, less the offset where one is written */
  readonly seconds: number
  readonly hasOffset: boolean
}

const form = /^\d{4}-\d\d-\d\dT(\d\d):(\d\d)(?::(\d\d(?:\.\d+)?))?(Z|[+-]\d\d(?::?\d\d)?)?$/

/** A time as `taken` has it; undefined where it is none. */
export function momentOf(text: string): Moment | undefined {
  const [, hour, minute, second = '0', offset] = form.exec(text) ?? []
  if (hour === undefined || minute === undefined || !isDay(text)) return undefined
  const seconds = 86_400 * dayNumber(text) + 3600 * Number(hour) + 60 * Number(minute) + Number(second)
  return { seconds: seconds - offsetSeconds(offset), hasOffset: offset !== undefined }
}

function offsetSeconds(offset: string | undefined): number {
  const [, sign, hours, minutes = '0'] = /^([+-])(\d\d):?(\d\d)?$/.exec(offset ?? '') ?? []
  return sign === undefined ? 0 : (sign === '-' ? -1 : 1) * (3600 * Number(hours) + 60 * Number(minutes))
}
