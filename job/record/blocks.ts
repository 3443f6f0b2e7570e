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
