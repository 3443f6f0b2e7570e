/** Units as they are written in the headers of recordings. */

const TIME: Readonly<Record<string, number>> = {
  s: 1,
  sec: 1,
  second: 1,
  seconds: 1,
  ms: 1e-3,
  msec: 1e-3,
  µs: 1e-6,
  ns: 1e-9,
  min: 60,
  h: 3600
}

const LENGTH: Readonly<Record<string, number>> = {
  m: 1,
  cm: 1e-2,
  mm: 1e-3,
  µm: 1e-6,
  in: 0.0254,
  inch: 0.0254,
  mil: 2.54e-5
}

const OTHER = [
  'V',
  'mV',
  'µV',
  'A',
  'mA',
  'µA',
  '°',
  'deg',
  'rad',
  'rev',
  'Hz',
  'kHz',
  'MHz',
  'Ω',
  'mΩ',
  'Ohm',
  'ohm',
  '%'
]

const KNOWN: ReadonlySet<string> = new Set([...Object.keys(TIME), ...Object.keys(LENGTH), ...OTHER])

/** One spelling a unit: the Greek mu, the micro sign and the letter u before a unit are the same prefix (SI brochure). */
export const unitText = (text: string): string =>
  text
    .trim()
    .replace(/\u03bc/g, '\u00b5')
    .replace(/^u(?=[smVA]$)/, '\u00b5')

export const isUnit = (text: string): boolean => KNOWN.has(unitText(text))

/** Seconds in one of this unit; undefined where it is no unit of time. */
export const timeScale = (unit: string | undefined): number | undefined => scaleIn(TIME, unit)

/** Meters in one of this unit; undefined where it is no unit of length. */
export const lengthScale = (unit: string | undefined): number | undefined => scaleIn(LENGTH, unit)

export const isAngleUnit = (unit: string | undefined): boolean =>
  unit !== undefined && ['°', 'deg', 'rad', 'rev'].includes(unitText(unit))

function scaleIn(table: Readonly<Record<string, number>>, unit: string | undefined): number | undefined {
  if (unit === undefined) return undefined
  const text = unitText(unit)
  return Object.hasOwn(table, text) ? table[text] : undefined
}
