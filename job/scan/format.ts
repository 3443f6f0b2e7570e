/** What a recorded format has to provide. A format knows bytes and columns; it knows nothing of channels or roles. */
import type { Result } from '@trueloop/ground/refusal'

/** How much of a recording's beginning is looked at before it is examined. */
export const HEAD_LIMIT = 1 << 20

/**
 * The beginning of a recording: at most HEAD_LIMIT bytes, the file's name, its whole size in bytes where that is known,
 * and the decimal mark where a person has stated it.
 */
export interface Head {
  readonly bytes: Uint8Array
  readonly name: string
  readonly size?: number
  readonly decimal?: '.' | ','
}

export interface Rate {
  readonly value: number
  readonly reason: string
  readonly certainty: number
}

/**
 * One column of numbers, with its values in the head. A cell that holds a complex number is two columns, which share
 * `pair`. `period_s`: a clock without a date starts again after so long.
 */
export interface RawColumn {
  /** the header's words for this column, top row first; empty where there is no header */
  readonly names: readonly string[]
  readonly kind: 'number' | 'clock' | 'real' | 'imaginary' | 'text'
  readonly pair?: number
  readonly period_s?: number
  readonly values: Float64Array
  readonly sample: readonly string[]
}

/** What the head shows about the whole recording. `doubts` are alternatives that a person has to settle. */
export interface Layout {
  readonly columns: readonly RawColumn[]
  readonly headerRows: number
  readonly rate?: Rate
  readonly notes: readonly string[]
  readonly doubts: readonly string[]
  readonly details: Readonly<Record<string, string>>
  /** unit of the numbers where the format itself defines one */
  readonly unit?: string
}

/**
 * Something about a row of a table. `dropped`: no row of the table belongs to it (a repeated header before `row`).
 * `last`: the recording ends inside this row, so it is an early end and no bad row.
 */
export interface RowEvent {
  readonly row: number
  readonly line?: number
  readonly reason: string
  readonly dropped?: true
  readonly last?: true
}

/** Consecutive rows, columns as wanted; an unreadable cell is NaN and its row has an event that says why. */
export interface Table {
  readonly rows: number
  readonly columns: readonly Float64Array[]
  readonly events: readonly RowEvent[]
}

/** What is known at the end only. `missing`: rows that were announced, or that lie behind the sound part, unread. */
export interface TableEnd {
  readonly tables: readonly Table[]
  readonly warnings: readonly string[]
  readonly missing?: { readonly rows: number; readonly reason: string }
}

/** A push parser. The bytes are the whole recording from its first byte on, cut anywhere. */
export interface TableReader {
  /** no more rows than this can come; undefined where the size is not known */
  readonly mostRows: number | undefined
  push(bytes: Uint8Array): Result<readonly Table[]>
  end(): Result<TableEnd>
}

export interface Format {
  readonly name: string
  recognise(head: Head): boolean
  survey(head: Head): Result<Layout>
  /** Reads these columns, in this order. */
  open(head: Head, columns: readonly number[]): Result<TableReader>
}

/** Rows of one table at most. */
export const TABLE_ROWS = 1 << 16
