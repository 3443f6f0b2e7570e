import { log10 } from '@trueloop/ground/numerics'
import { meters, printQuantity, radians, ratio } from '@trueloop/ground/quantity'
import type { Preferences } from '../shell/preferences.tsx'

/** How a person has figures written. Values stay what they are; `ground/quantity` alone prints units. */
export type Writing = Pick<Preferences, 'length' | 'angle' | 'amplitude'>

const minus = (text: string): string => text.replace(/^-/, '−')

/** Two decimals of a millimeter, or three of an inch (0.025 mm). */
export const lengthText = ({ length }: Writing, value_m: number): string =>
  minus(length === 'mm' ? printQuantity(meters(value_m), 'mm', 2) : printQuantity(meters(value_m), 'in', 3))

/** The bare figure, for an axis that names its unit. */
export const lengthFigure = ({ length }: Writing, value_m: number): number =>
  length === 'mm' ? value_m * 1e3 : value_m / 0.0254

export const lengthUnit = ({ length }: Writing): string => (length === 'mm' ? 'mm' : 'in')

/** Place around a hole. A clock position only where the job has a datum for it (`basis`); else degrees, whatever is chosen. */
export function aroundText({ angle }: Writing, angle_rad: number, basis: string): string {
  const turn = angle_rad / (2 * Math.PI)
  const whole = turn - Math.floor(turn)
  if (angle === 'clock' && basis === 'clock') return clockText(whole)
  return printQuantity(radians(whole * 2 * Math.PI), 'deg', 0)
}

/** A share of a turn as hours and minutes of a clock face, twelve on top. */
export function clockText(turn: number): string {
  const minutes = Math.round(turn * 720) % 720
  const hours = Math.floor(minutes / 60)
  return `${hours === 0 ? 12 : hours}:${String(minutes % 60).padStart(2, '0')}`
}

/** Angle in the plane, from lift-off. */
export const phaseText = (angle_rad: number): string => minus(printQuantity(radians(angle_rad), 'deg', 0))

/** Amplitude over that of the named notch, as a share or in decibels; recorded units have neither. */
export function amplitudeText({ amplitude }: Writing, value: number, unit: 'notch' | 'recorded'): string {
  if (unit === 'recorded') return `${value.toPrecision(3)} as recorded`
  if (amplitude === 'share') return printQuantity(ratio(value), '%', 0)
  return value > 0 ? minus(`${(20 * log10(value)).toFixed(1)} dB`) : 'none'
}

/**
 * A sentence of the record with its lengths in the unit chosen. Sentences are written in millimeters; inches get one digit
 * more than the millimeters had, which keeps what they say to within a tenth of their last digit's worth.
 */
export const sentenceIn = ({ length }: Writing, text: string): string =>
  length === 'mm'
    ? text
    : text.replaceAll(/(\d+(?:\.(\d+))?)(?: |\u00a0)mm\b/g, (_, figure: string, decimals = '') =>
        printQuantity(meters(Number(figure) * 1e-3), 'in', decimals.length + 1)
      )
