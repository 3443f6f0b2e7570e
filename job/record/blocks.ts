/** What a report is made of, before it is a page or a print: no colors, no fonts, no HTML. */

/** `symbol` is a small drawing that says nothing by itself: the text beside it does. */
export interface Cell {
  readonly text: string
  readonly symbol?: string
}

export interface Column {
  readonly label: string
  /** figures stand under each other at the right */
  readonly figures?: boolean
}

export interface Fact {
  readonly label: string
  readonly value: string
  /** how the value is known, where that is not plain */
  readonly known?: string
}

export type Block =
  | { readonly block: 'heading'; readonly level: 1 | 2 | 3; readonly title: string }
  | { readonly block: 'paragraph'; readonly text: string }
  | { readonly block: 'caution'; readonly tone: Tone; readonly title: string; readonly text: string }
  | { readonly block: 'facts'; readonly facts: readonly Fact[] }
  | {
      readonly block: 'table'
      readonly caption: string
      readonly columns: readonly Column[]
      readonly rows: readonly (readonly Cell[])[]
    }
  | {
      readonly block: 'figure'
      readonly svg: string
      /** what the drawing shows, in words, for those who can't see it */
      readonly alt: string
      readonly caption: string
      readonly width: 'whole' | 'half'
    }
  | { readonly block: 'list'; readonly items: readonly string[] }
  | { readonly block: 'page-break' }

/** `stop`: may not be signed off or relied on; `warning`: something waits or is missing; `note`: to be known. */
export type Tone = 'note' | 'warning' | 'stop'

export const heading = (level: 1 | 2 | 3, title: string): Block => ({ block: 'heading', level, title })
export const paragraph = (text: string): Block => ({ block: 'paragraph', text })
export const list = (items: readonly string[]): Block => ({ block: 'list', items })
export const cells = (...texts: readonly string[]): readonly Cell[] => texts.map((text) => ({ text }))

/** A table, or a sentence where there is no row: an empty table would not say why. */
export const tableOr = (table: Omit<Extract<Block, { block: 'table' }>, 'block'>, otherwise: string): Block =>
  table.rows.length === 0 ? paragraph(otherwise) : { block: 'table', ...table }

type Table = Extract<Block, { block: 'table' }>

/** Fewer rows than these are read at a glance as they are. */
const many = 3

/**
 * A table in which a column that says the same in all its many rows is said once before it, and not again in each row.
 * The first `names` columns name the rows and stay. A sentence where there is no row.
 */
export function withoutRepeats(table: Omit<Table, 'block'>, names: number, otherwise: string): readonly Block[] {
  const { caption, columns, rows } = table
  const isSame = (at: number): boolean => rows.every((row) => row[at]?.text === rows[0]?.[at]?.text)
  const same = rows.length < many ? [] : columns.flatMap((_, at) => (at >= names && isSame(at) ? [at] : []))
  if (same.length === 0) return [tableOr(table, otherwise)]
  const rest = columns.flatMap((_, at) => (same.includes(at) ? [] : [at]))
  const facts = same.map((at) => ({ label: columns[at]!.label, value: rows[0]![at]!.text }))
  return [
    paragraph(`${caption}: the same in all ${rows.length} rows.`),
    { block: 'facts', facts },
    ...(rest.length <= names
      ? []
      : [
          {
            ...{ block: 'table' as const, caption, columns: rest.map((at) => columns[at]!) },
            rows: rows.map((row) => rest.map((at) => row[at]!))
          }
        ])
  ]
}
