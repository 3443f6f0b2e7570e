/** From guesses and a person's word to the columns that will be read. */
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { refuse } from './codes.ts'
import { CERTAIN, type Column } from './columns/guess.ts'
import { lengthScale, timeScale } from './columns/units.ts'
import type { Survey } from './survey.ts'

/** Column numbers from 0 and what their numbers mean. `units`: seconds, and meters, in one of the recorded unit. */
export interface Mapping {
  readonly x: number
  readonly y: number
  readonly index?: number
  readonly time?: number
  readonly position?: number
  readonly absolute?: number
  /** stated rate; it rules over time stamps and over the file's header */
  readonly rate_Hz?: number
  readonly units?: { readonly time?: number; readonly position?: number }
  /** stated decimal mark, where the file leaves it open */
  readonly decimal?: '.' | ','
}

/** A column by number or by name (with or without its unit); null: this recording has none. */
export type Pick = number | string | null

/** What a person, or a line in the job sheet, says. A role that is named here is confirmed. */
export interface Overrides {
  readonly x?: number | string
  readonly y?: number | string
  readonly index?: Pick
  readonly time?: Pick
  readonly position?: Pick
  readonly absolute?: Pick
  readonly rate_Hz?: number
  /** as written in a header: s, ms, µs; m, mm, in */
  readonly units?: { readonly time?: string; readonly position?: string }
  readonly decimal?: '.' | ','
}

export const USED = ['x', 'y', 'index', 'time', 'position', 'absolute'] as const
export type Used = (typeof USED)[number]
type Chosen = Partial<Record<Used, Column>>

/**
 * The columns to read: overrides first, then guesses whose column no override took. A guess below CERTAIN is never used
 * unconfirmed. A position must have a unit of length; a confirmed time without a unit is in seconds.
 * Refuses: scan/no-such-column, scan/column-twice, scan/one-channel, scan/uncertain-columns, scan/uncertain-numbers,
 * scan/no-unit.
 */
export function mappingOf(survey: Survey, overrides: Overrides = {}): Result<Mapping> {
  const said = saidColumns(survey, overrides)
  if (isRefusal(said)) return said
  const chosen = withGuesses(survey, overrides, said)
  const no = twice(chosen) ?? incomplete(survey, chosen) ?? unsure(survey, chosen, said) ?? openDoubt(survey, overrides)
  return no ?? mapped(chosen, overrides)
}

function saidColumns(survey: Survey, overrides: Overrides): Result<Chosen> {
  const said: Chosen = {}
  for (const role of USED) {
    const pick = overrides[role]
    if (pick === undefined || pick === null) continue
    const column = columnBy(survey, pick)
    if (isRefusal(column)) return column
    said[role] = column
  }
  return said
}

function columnBy(survey: Survey, pick: number | string): Result<Column> {
  const found = survey.columns.filter((column) =>
    typeof pick === 'number' ? column.number === pick : isNamed(column, pick)
  )
  if (found.length === 1) return found[0] as Column
  const text = typeof pick === 'number' ? `column number ${pick}` : `column name "${pick}"`
  return refuse('scan/no-such-column', {
    found: `${found.length} columns for the ${text}; there are ${survey.columns.slice(0, 24).map(label).join(', ')}`,
    needed: 'exactly one column',
    remedy: 'give the number (from 0) or the name of a column that the file has'
  })
}

const label = (column: Column): string => `${column.number} "${column.name}"`

const isNamed = (column: Column, name: string): boolean => {
  const wanted = name.trim().toLowerCase()
  const own = column.name.toLowerCase()
  return own === wanted || (column.unit !== undefined && bare(own, column.unit) === wanted)
}

/** `x_v` without its unit is `x`, `t (µs)` is `t`. */
const bare = (name: string, unit: string): string => {
  const text = name.replace(/\u03bc/g, '\u00b5')
  const tail = [`_${unit}`, ` (${unit})`, `(${unit})`, ` [${unit}]`, `/${unit}`, ` ${unit}`].find((end) =>
    text.endsWith(end.toLowerCase())
  )
  return tail === undefined ? text : text.slice(0, -tail.length)
}

function withGuesses(survey: Survey, overrides: Overrides, said: Chosen): Chosen {
  const chosen: Chosen = { ...said }
  for (const column of survey.columns) {
    const role = USED.find((used) => used === column.role)
    if (role === undefined || overrides[role] !== undefined) continue
    if (!Object.values(said).some((taken) => taken.number === column.number)) chosen[role] = column
  }
  return chosen
}

function twice(chosen: Chosen): Refusal | undefined {
  const numbers = Object.values(chosen).map((column) => column.number)
  const double = numbers.find((number, at) => numbers.indexOf(number) !== at)
  if (double === undefined) return undefined
  const roles = USED.filter((role) => chosen[role]?.number === double)
  return refuse('scan/column-twice', {
    found: `column ${double} taken for ${roles.join(' and ')}`,
    needed: 'a column of its own for each',
    remedy: 'correct the columns'
  })
}

function incomplete(survey: Survey, chosen: Chosen): Refusal | undefined {
  const lacking = (['x', 'y'] as const).filter((role) => chosen[role] === undefined)
  if (lacking.length === 0) return undefined
  return refuse('scan/one-channel', {
    found: `no column for ${lacking.join(' and ')} among ${survey.columns.slice(0, 24).map(label).join(', ')}`,
    needed: 'x (in phase) and y (quadrature)',
    remedy: 'say which columns they are, or export both parts of the signal'
  })
}

function unsure(survey: Survey, chosen: Chosen, said: Chosen): Refusal | undefined {
  const open = USED.filter((role) => said[role] === undefined && (chosen[role]?.certainty ?? 1) < CERTAIN)
  if (open.length === 0) return undefined
  const guesses = open.map((role) => `${role} = column ${label(chosen[role] as Column)} (${chosen[role]?.reason})`)
  return refuse('scan/uncertain-columns', {
    found: `guesses only: ${guesses.join('; ')}`,
    needed: `columns that are certain, or confirmed, in a ${survey.format} file`,
    remedy: `confirm or correct ${open.join(', ')} by a line in the job sheet or a flag (null where there is none)`
  })
}

function openDoubt(survey: Survey, overrides: Overrides): Refusal | undefined {
  if (survey.doubts.length === 0 || overrides.decimal !== undefined) return undefined
  return refuse('scan/uncertain-numbers', {
    found: survey.doubts.join('; '),
    needed: 'numbers that can be read in one way only',
    remedy: 'state the decimal mark'
  })
}

function mapped(chosen: Chosen, overrides: Overrides): Result<Mapping> {
  const time = unitOf('time', chosen, overrides)
  const position = unitOf('position', chosen, overrides)
  if (isRefusal(time)) return time
  if (isRefusal(position)) return position
  const columns = Object.fromEntries(USED.flatMap((role) => (chosen[role] ? [[role, chosen[role].number]] : [])))
  return {
    ...(columns as { x: number; y: number }),
    ...(overrides.rate_Hz === undefined ? {} : { rate_Hz: overrides.rate_Hz }),
    ...(overrides.decimal === undefined ? {} : { decimal: overrides.decimal }),
    units: { ...(time === undefined ? {} : { time }), ...(position === undefined ? {} : { position }) }
  }
}

/** The scale of the column to SI; undefined where the column is not used. */
function unitOf(role: 'time' | 'position', chosen: Chosen, overrides: Overrides): Result<number | undefined> {
  const column = chosen[role]
  if (column === undefined) return undefined
  const unit = overrides.units?.[role] ?? column.unit ?? (role === 'time' ? 's' : undefined)
  const scale = role === 'time' ? timeScale(unit) : lengthScale(unit)
  if (scale !== undefined) return scale
  return refuse('scan/no-unit', {
    found: `column ${label(column)} as ${role}, ${unit === undefined ? 'without a unit' : `in "${unit}"`}`,
    needed: role === 'time' ? 'a unit of time (s, ms, µs, ns, min, h)' : 'a unit of length (m, cm, mm, µm, in, mil)',
    remedy: `state the unit of the ${role}`
  })
}
