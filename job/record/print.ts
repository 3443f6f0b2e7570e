import { log10 } from '@trueloop/ground/numerics'
import { meters, printQuantity, radians, ratio } from '@trueloop/ground/quantity'
import type { Moment } from './kinds/parts.ts'

/** How the report writes its figures. Units are printed by `ground/quantity` alone. */

export const mm = (length_m: number, digits = 2): string => signed(printQuantity(meters(length_m), 'mm', digits))

/** With the sign that a page has for minus. */
export const signed = (text: string): string => text.replace(/^-/, '−')

export const mmOrUnknown = (length_m: number | 'unknown', digits = 2): string =>
  length_m === 'unknown' ? 'unknown' : mm(length_m, digits)

export const deg = (angle_rad: number, digits = 0): string => signed(printQuantity(radians(angle_rad), 'deg', digits))

export const percent = (share: number, digits = 0): string => printQuantity(ratio(share), '%', digits)

/** A share that is less than whole never reads "100 %": rounding may not complete a coverage. */
export function covered(share: number): string {
  if (share >= 1) return percent(1)
  return percent(Math.min(share, 0.999), share > 0.99 ? 1 : 0)
}

/** Amplitude in shares of the named notch, or as recorded. */
export const amplitude = (value: number, unit: 'notch' | 'recorded'): string =>
  unit === 'notch' ? percent(value) : `${value.toPrecision(4)} as recorded`

export const count = (number: number, one: string, many = `${one}s`): string => `${number} ${number === 1 ? one : many}`

/** What stands where a report has to answer and the record has no answer: a gap is never silent. */
export const notStated = 'not stated'

/** Amplitude over that of the named notch in decibels: 20 times the logarithm of the ratio. */
export const decibels = (share: number): string => (share > 0 ? signed(`${(20 * log10(share)).toFixed(1)} dB`) : 'none')

/** A hash is long: a person compares its ends, a program the whole. */
export const shortHash = (hash: string): string => hash.slice(0, 12)

export const moment = ({ time, known }: Moment): string => `${time.replace('T', ' ').replace(/\.\d+/, '')} (${known})`

export const sentenceCase = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)

/** Ends in a period, once. */
export const ended = (text: string): string => (/[.!?]$/.test(text) ? text : `${text}.`)
