/** The head of a text recording: what stands above the rows, and how the rows are written. */
import type { Refusal, Result } from '@trueloop/ground/refusal'
import { refuse } from '../../codes.ts'
import { HEAD_LIMIT, type Head, type Rate } from '../../format.ts'
import { headersOf, isAside, notesOf, SEPARATOR_LINE, statedRate } from './above.ts'
import { type CellKind, clockOf, kindOf, lacksExponentLetter, type Separator, type Style, splitLine } from './cells.ts'
import { type Encoding, encodingOf, Narrower, textDecoderFor } from './encoding.ts'
import { type Line, Lines } from './lines.ts'
import { type Guess, guessStyle } from './style.ts'

/** A column of numbers and the cell of a row it comes from; a complex cell gives two. */
export interface SourceColumn {
  readonly cell: number
  readonly kind: 'number' | 'clock' | 'real' | 'imaginary' | 'text'
  readonly names: readonly string[]
}

export interface Sheet {
  readonly encoding: Encoding
  readonly style: Style
  readonly cells: number
  readonly columns: readonly SourceColumn[]
  /** first byte of the first row, in the bytes that a Narrower gives */
  readonly dataStart: number
  /** lines above the first row */
  readonly linesAbove: number
  readonly headers: readonly (readonly string[])[]
  readonly notes: readonly string[]
  readonly doubts: readonly string[]
  /** day of the first clock time, so that seconds stay small */
  readonly baseDay: number
  readonly period_s?: number
  /** how long the last cell is behind its decimal mark in every row looked at; undefined where that differs */
  readonly tail: number | undefined
  readonly sample: readonly (readonly string[])[]
  readonly rate?: Rate
}

/** Lines looked at to find the style, spread over the head. */
const LOOKED_AT = 96

/** Refuses scan/unsupported-encoding, scan/truncated-header, scan/only-text, scan/unreadable-numbers. */
export function sheetOf(head: Head): Result<Sheet> {
  const encoding = encodingOf(head.bytes)
  if (encoding === 'utf-32') return wrongEncoding(head)
  const whole = head.size === undefined ? head.bytes.length < HEAD_LIMIT : head.size <= head.bytes.length
  const lines = new Lines(new Narrower(encoding).push(head.bytes), whole, textDecoderFor(encoding))
  const spread = spreadLines(lines)
  const separator = statedSeparator(lines)
  const stated = { ...(separator && { separator }), ...(head.decimal && { decimal: head.decimal }) }
  const guess = guessStyle(spread, stated)
  const top = guess === undefined ? undefined : topOf(lines, guess)
  if (guess === undefined || top === undefined) return withoutRows(head, { lines, spread, whole })
  return { encoding, ...sheetFrom(lines, guess, top) }
}

function spreadLines(lines: Lines): readonly string[] {
  const found: string[] = []
  for (let turn = 0, next = 0; turn < LOOKED_AT && next < lines.count; turn++) {
    for (let at = Math.max(next, Math.floor((turn * lines.count) / LOOKED_AT)); at < lines.count; at++) {
      next = at + 1
      const { text } = lines.at(at)
      if (isAside(text) || text.includes('\0')) continue
      found.push(text)
      break
    }
  }
  return found
}

function statedSeparator(lines: Lines): Separator | undefined {
  const found = lines.count === 0 ? null : SEPARATOR_LINE.exec(lines.at(0).text)
  return found === null ? undefined : (found[1] as Separator)
}

/** The lines above the first row. */
interface Top {
  readonly above: readonly Line[]
  readonly dataStart: number
  readonly firstRow: number
}

function topOf(lines: Lines, guess: Guess): Top | undefined {
  const above: Line[] = []
  for (let at = 0; at < lines.count; ) {
    const line = lines.logical(at)
    if (isRow(line.text, guess)) return { above, dataStart: line.from, firstRow: at }
    above.push(line)
    at += line.count
  }
  return undefined
}

/** A row has as many cells as most, its first number cell can be read (else it is a label), and so can half of them. */
function isRow(text: string, guess: Guess): boolean {
  if (isAside(text)) return false
  const cells = splitLine(text, guess.style.separator)
  if (cells.length !== guess.cells) return false
  const able = guess.kinds.flatMap((kind, at) => (kind === 'text' ? [] : [fits(kind, cells[at] ?? '', guess.style)]))
  return able[0] === true && 2 * able.filter(Boolean).length >= able.length
}

const fits = (kind: CellKind, cell: string, style: Style): boolean => {
  const own = kindOf(cell, style)
  return own === kind || own === 'nan'
}

function sheetFrom(lines: Lines, guess: Guess, top: Top): Omit<Sheet, 'encoding'> {
  const headers = headersOf(top.above, guess)
  const rows = firstRows(lines, guess, top.firstRow)
  const clock = guess.kinds.indexOf('clock')
  const time = clock < 0 ? undefined : clockOf(rows[0]?.[clock] ?? '')
  const rate = statedRate(top.above)
  return {
    style: guess.style,
    cells: guess.cells,
    columns: columnsOf(guess, headers.rows),
    dataStart: top.dataStart,
    linesAbove: top.above.reduce((sum, line) => sum + line.count, 0),
    headers: headers.rows,
    notes: notesOf(top.above, headers.used),
    doubts: guess.doubts,
    baseDay: time?.day ?? 0,
    ...(time?.period_s === undefined ? {} : { period_s: time.period_s }),
    tail: tailOf(rows, guess.style),
    sample: rows.slice(0, 3),
    ...(rate === undefined ? {} : { rate })
  }
}

function firstRows(lines: Lines, guess: Guess, from: number): readonly (readonly string[])[] {
  const rows: (readonly string[])[] = []
  for (let at = from; at < lines.count && rows.length < LOOKED_AT; at++) {
    const { text } = lines.at(at)
    if (isRow(text, guess)) rows.push(splitLine(text, guess.style.separator))
  }
  return rows
}

function columnsOf(guess: Guess, headers: readonly (readonly string[])[]): readonly SourceColumn[] {
  return guess.kinds.flatMap((kind, cell): readonly SourceColumn[] => {
    const names = headers.map((row) => row[cell] ?? '')
    if (kind !== 'complex') return [{ cell, kind: kind === 'number' || kind === 'clock' ? kind : 'text', names }]
    return [
      { cell, kind: 'real', names },
      { cell, kind: 'imaginary', names }
    ]
  })
}

/** Characters behind the decimal mark of a cell, 0 where there is none. */
export const lengthBehindMark = (cell: string, style: Style): number => {
  const at = cell.lastIndexOf(style.decimal)
  return at < 0 ? 0 : cell.length - at - 1
}

function tailOf(rows: readonly (readonly string[])[], style: Style): number | undefined {
  const lengths = new Set(rows.map((row) => lengthBehindMark(row.at(-1) ?? '', style)))
  const [first] = lengths
  return lengths.size === 1 ? first : undefined
}

function withoutRows(head: Head, seen: { lines: Lines; spread: readonly string[]; whole: boolean }): Refusal {
  if (seen.lines.count === 0 || (!seen.whole && seen.spread.length === 0)) return longHeader(head)
  const cells = seen.spread.flatMap((line) => line.split(/[,;\t| ]/))
  const damaged = cells.find(lacksExponentLetter)
  return damaged === undefined ? onlyText(head, seen.spread[0] ?? '') : lostExponent(head, damaged)
}

const longHeader = (head: Head): Refusal =>
  refuse('scan/truncated-header', {
    found: `no row within the first ${head.bytes.length} bytes`,
    needed: 'a header and a first row within 1 MiB',
    remedy: 'check that this is a recording; export fewer columns',
    where: { file: head.name }
  })

const onlyText = (head: Head, first: string): Refusal =>
  refuse('scan/only-text', {
    found: `text without rows of numbers, beginning with "${first.trim().slice(0, 60)}"`,
    needed: 'rows of numbers',
    remedy: 'check that this is the recording and not a note or a report',
    where: { file: head.name }
  })

const lostExponent = (head: Head, cell: string): Refusal =>
  refuse('scan/unreadable-numbers', {
    found: `numbers like "${cell}", whose exponent has no letter`,
    needed: 'numbers such as 1.5e-03',
    remedy: 'export again with the letter E in exponents, or with fixed decimals',
    where: { file: head.name }
  })

const wrongEncoding = (head: Head): Refusal =>
  refuse('scan/unsupported-encoding', {
    found: 'text in UTF-32',
    needed: 'UTF-8, UTF-16 or Latin-1 text',
    remedy: 'save the file as UTF-8',
    where: { file: head.name }
  })
