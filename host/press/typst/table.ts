import type { Block, Cell, Column } from '@trueloop/job/record'
import { type Measured, measured } from './measure.ts'
import { bodySize, gap, inner, type Setting, type Text } from './setting.ts'
import { columnWidths, type Need } from './widths.ts'

type Table = Extract<Block, { readonly block: 'table' }>

/** A table with its widths in points: what is narrow stays on one line, long texts wrap, nothing is wider than its column. */
export function tableData(setting: Setting, { caption, columns, rows }: Table): object {
  const size = sizeFor(columns.length)
  const needs = columns.map((column, at) => need(setting, column, rows, { at, size }))
  const widths = columnWidths(needs, inner)
  const rooms = widths.map((width) => (width - gap) / size)
  return {
    ...{ block: 'table', size, widths, caption: setting.text(caption, inner / bodySize) },
    right: columns.map(({ figures = false }) => figures),
    heads: columns.map(({ label }, at) => setting.text(label, rooms[at]!)),
    cells: rows.flatMap((row) => row.map((cell, at) => cellData(setting, cell, rooms[at]!))),
    breaks: rows.some((row) => row.some(({ text }) => text.length > longCell))
  }
}

/** A row is kept on one page unless it holds a text that might not fit on one. */
const longCell = 1500

const sizeFor = (columns: number): number => (columns > 8 ? 7.5 : 8.5)

/** A symbol before a text, with the space behind it, in ems. */
const symbolRoom = 1.7

interface Where {
  readonly at: number
  readonly size: number
}

/** In points, with the gap behind the column, and a little more so that what just fits is not wrapped. */
function need(setting: Setting, { label }: Column, rows: readonly (readonly Cell[])[], { at, size }: Where): Need {
  let { word, line } = measured(setting.fonts.bold, setting.show(label))
  for (const row of rows) {
    const cell = row[at]
    if (cell === undefined) continue
    const found = cellNeed(setting, cell)
    word = Math.max(word, found.word)
    line = Math.max(line, found.line)
  }
  const points = (ems: number): number => ems * size + gap + 1
  return { least: points(word), most: points(line) }
}

function cellNeed({ fonts, show }: Setting, { text, symbol }: Cell): Measured {
  const found = measured(fonts.regular, show(text))
  const [share, before] = [isHash(text) ? small : 1, symbol === undefined ? 0 : symbolRoom]
  return { word: found.word * share + before, line: found.line * share + before }
}

/** Whole hashes are set smaller: a program compares them, and they would take the room of all that is read. */
const isHash = (text: string): boolean => /^[0-9a-f]{40,}$/.test(text)

/** Size of a hash as a share of the table's. */
const small = 0.78

function cellData(setting: Setting, { text, symbol }: Cell, room: number): Text | object {
  if (isHash(text)) return { small: setting.text(text, room / small, setting.fonts.regular) }
  if (symbol === undefined) return setting.text(text, room, setting.fonts.regular)
  return { symbol: setting.symbol(symbol), text: setting.text(text, room - symbolRoom, setting.fonts.regular) }
}
