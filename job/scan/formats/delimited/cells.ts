/** One line of text: its cells, and what a cell means. The plain, slow way; `rows.kernel.ts` is the fast one. */

export type Separator = ',' | ';' | '\t' | '|' | ' '
export type Decimal = '.' | ','

/** How numbers are written. `thousands`: the mark between groups of three digits, where there is one. */
export interface Style {
  readonly separator: Separator
  readonly decimal: Decimal
  readonly thousands?: string
}

export type CellKind = 'number' | 'clock' | 'complex' | 'nan' | 'blank' | 'text'

/** The cells of a line, trimmed and without quotes. With a blank as separator a run of blanks is one. */
export function splitLine(line: string, separator: Separator): readonly string[] {
  const text = separator === ' ' ? line.trim().replace(/[ \t]+/g, ' ') : line
  const cells = text.includes('"') ? splitQuoted(text, separator) : text.split(separator)
  return cells.map((cell) => cell.trim())
}

function splitQuoted(text: string, separator: string): string[] {
  const cells: string[] = []
  let cell = ''
  let quoted = false
  for (let at = 0; at < text.length; at++) {
    const char = text[at] as string
    if (char === '"' && quoted && text[at + 1] === '"') {
      cell += '"'
      at++
    } else if (char === '"') quoted = !quoted
    else if (char === separator && !quoted) {
      cells.push(cell)
      cell = ''
    } else cell += char
  }
  cells.push(cell)
  return cells
}

const PLAIN = /^[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?$/

/**
 * The number in a cell, equal to `Number` of its text once decimal mark and group marks are the usual ones.
 * Undefined for anything else; an exponent without its letter (`1.5-03`) is never read as 1.5.
 */
export function numberOf(cell: string, style: Style): number | undefined {
  const text = cell.replace('\u2212', '-')
  const plain = style.decimal === '.' ? text : text.includes('.') ? '' : text.replace(',', '.')
  if (PLAIN.test(plain)) return Number(plain)
  const ungrouped = ungroup(text, style)
  return ungrouped !== undefined && PLAIN.test(ungrouped) ? Number(ungrouped) : undefined
}

/** Groups of three after a first group that does not begin with zero; a second mark in the cell makes them sure. */
function ungroup(text: string, style: Style): string | undefined {
  const other = style.decimal === '.' ? ',' : '.'
  const mark = style.thousands ?? (text.includes(style.decimal) ? other : undefined)
  if (mark === undefined || !text.includes(mark)) return undefined
  const [whole = '', fraction, more] = text.split(style.decimal)
  const groups = whole.split(mark)
  const sound = more === undefined && /^[+-]?[1-9]\d{0,2}$/.test(groups[0] ?? '') && groups.slice(1).every(isGroup)
  return sound ? `${groups.join('')}${fraction === undefined ? '' : `.${fraction}`}` : undefined
}

const isGroup = (text: string): boolean => /^\d{3}$/.test(text)

export interface ClockTime {
  /** days since 1970-01-01 where the cell has a date, else 0 */
  readonly day: number
  /** seconds since midnight, or since the hour where there are only minutes and seconds */
  readonly seconds: number
  /** after so many seconds the clock starts again; absent with a date */
  readonly period_s?: number
}

const CLOCK = /^(?:(\d{4})[-/](\d{1,2})[-/](\d{1,2})[ T])?(?:(\d{1,2}):)?(\d{1,3}):(\d{1,2}(?:[.,]\d+)?)Z?$/

/** `2016-05-23 21:46:00.5`, `21:46:00,5`, `46:00.5`. */
export function clockOf(cell: string): ClockTime | undefined {
  const found = CLOCK.exec(cell)
  if (found === null) return undefined
  const [, year, month, date, hour, minute, second] = found
  const seconds = Number(hour ?? 0) * 3600 + Number(minute) * 60 + Number(second?.replace(',', '.'))
  if (year !== undefined) return { day: dayOf(Number(year), Number(month), Number(date)), seconds }
  return { day: 0, seconds, period_s: hour === undefined ? 3600 : 86400 }
}

/** Days from 1970-01-01 in the Gregorian calendar: days before the year, before the month (from March), in the month. */
function dayOf(year: number, month: number, date: number): number {
  const late = month > 2
  const y = late ? year : year - 1
  const m = late ? month - 3 : month + 9
  const leap = Math.floor(y / 4) - Math.floor(y / 100) + Math.floor(y / 400)
  return 365 * y + leap + Math.floor((153 * m + 2) / 5) + date - 1 - 719468
}

const COMPLEX = /^\(?\s*([+-]?[\d.,]+(?:[eE][+-]?\d+)?)\s*([+-]\s*[+-]?[\d.,]+(?:[eE][+-]?\d+)?)\s*[ij]\s*\)?$/

/** `(1.5-2.5j)`, `1.5+2.5i`, and `(1.5+-2.5j)` as some array writers print it. */
export function complexOf(cell: string, style: Style): readonly [number, number] | undefined {
  const found = COMPLEX.exec(cell)
  if (found === null) return undefined
  const real = numberOf(found[1] as string, style)
  const imaginary = numberOf((found[2] as string).replace(/\s/g, '').replace(/^\+([+-])/, '$1'), style)
  return real === undefined || imaginary === undefined ? undefined : [real, imaginary]
}

export const isNanText = (cell: string): boolean => /^[+-]?(nan|inf|infinity|n\/a|null|none|#n\/a)$/i.test(cell)

export function kindOf(cell: string, style: Style): CellKind {
  if (cell === '') return 'blank'
  if (numberOf(cell, style) !== undefined) return 'number'
  if (isNanText(cell)) return 'nan'
  if (clockOf(cell) !== undefined) return 'clock'
  return complexOf(cell, style) === undefined ? 'text' : 'complex'
}

/** Like `1.5-03`: a number whose exponent has lost its letter. */
export const lacksExponentLetter = (cell: string): boolean => /^[+-]?\d*[.,]\d+[+-]\d{2,3}$/.test(cell)
