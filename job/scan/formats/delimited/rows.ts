/** One row the plain, slow way: what it is, its values, and why it can't be read. */
import { isComment } from './above.ts'
import { clockOf, complexOf, isNanText, numberOf, splitLine } from './cells.ts'
import type { Sheet, SourceColumn } from './sheet.ts'

export type Row =
  | { readonly kind: 'blank' | 'comment' | 'header' }
  | { readonly kind: 'row'; readonly values: readonly number[]; readonly reason?: string; readonly last: string }

export const TOO_LONG = 'a line of more than 1 MiB'

/** Reads a line for these columns; a cell that can't be read is NaN, and the first such cell gives the reason. */
export function rowOf(text: string, sheet: Sheet, columns: readonly SourceColumn[]): Row {
  const line = text.replace(/\0+/g, '')
  if (line.trim() === '') return { kind: 'blank' }
  if (line.length !== text.length) return unread(columns, 'NUL bytes in the row')
  if (isComment(line)) return { kind: 'comment' }
  const cells = splitLine(line, sheet.style.separator)
  if (isHeaderAgain(cells, sheet)) return { kind: 'header' }
  if (cells.length !== sheet.cells)
    return unread(columns, `the row has ${cells.length < sheet.cells ? 'too few' : 'too many'} cells`)
  return valuesOf(cells, sheet, columns)
}

const unread = (columns: readonly SourceColumn[], reason: string): Row => ({
  kind: 'row',
  values: columns.map(() => Number.NaN),
  reason,
  last: ''
})

export const overlong = (columns: readonly SourceColumn[]): Row => unread(columns, TOO_LONG)

const isHeaderAgain = (cells: readonly string[], sheet: Sheet): boolean =>
  sheet.headers.some((header) => header.length === cells.length && header.every((cell, at) => cell === cells[at]))

function valuesOf(cells: readonly string[], sheet: Sheet, columns: readonly SourceColumn[]): Row {
  const values = columns.map((column) => valueIn(cells[column.cell] ?? '', column, sheet))
  const lost = columns.find((_, at) => values[at] === undefined)
  const numbers = values.map((value) => value ?? Number.NaN)
  const last = cells.at(-1) ?? ''
  return lost === undefined
    ? { kind: 'row', values: numbers, last }
    : { kind: 'row', values: numbers, last, reason: reasonFor(cells[lost.cell] ?? '') }
}

function valueIn(cell: string, column: SourceColumn, sheet: Sheet): number | undefined {
  if (column.kind === 'text') return undefined
  if (column.kind === 'number') return numberOf(cell, sheet.style)
  if (column.kind === 'clock') {
    const time = clockOf(cell)
    return time && (time.day - sheet.baseDay) * 86400 + time.seconds
  }
  return complexOf(cell, sheet.style)?.[column.kind === 'real' ? 0 : 1]
}

const reasonFor = (cell: string): string =>
  cell === '' ? 'an empty cell' : isNanText(cell) ? 'not a number (NaN or infinite)' : 'text where a number should be'
