import type { z } from 'zod'
import type { Step } from '../where.ts'

/** A day of a row, with the place where it stands. */
export interface RowDay {
  readonly steps: readonly Step[]
  readonly day: string
}

/** A time for which something of a row holds. */
export interface Span {
  /** what holds: "certificate", "near vision" */
  readonly of: string
  /** the first day on which it holds; absent: always did */
  readonly from?: RowDay | undefined
  /** the last day on which it holds; absent: holds on */
  readonly until?: RowDay | undefined
  /** the first day on which it holds no more, where that is what the row states */
  readonly ends?: RowDay | undefined
}

/** What a register is: how its rows look, what they are called, which row takes the place of which, and for how long. */
export interface Register<Row> {
  /** key of its list in a file of rows */
  readonly list: string
  readonly schema: z.ZodObject
  /** one thing, one name */
  readonly nameOf: (row: Row) => string
  /** a row of the same edition takes the place of the one before; another edition stands beside it */
  readonly editionOf: (row: Row) => string
  readonly spansOf: (row: Row) => readonly Span[]
}
