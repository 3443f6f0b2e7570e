import { type TrialName, trials } from '../../../job/rehearse/index.ts'
import { type BlankRow, blankFigures, blankRows, blankTable } from './blanks.ts'
import { type ClassingRow, classingFigures, classingRows, classingTable } from './classing.ts'
import { type SizingRow, sizingFigures, sizingRows, sizingTable } from './sizing.ts'
import { type SmallestRow, smallestFigures, smallestRows, smallestTable } from './smallest.ts'

/** The generated trials: rows of one set-up (made in a process of its own), and the figures of all rows together. */

const makers = { blanks: blankRows, classing: classingRows, sizing: sizingRows, smallest: smallestRows } as const

export type TrialRow = BlankRow | ClassingRow | SizingRow | SmallestRow

/** Rows of one set-up's part of a trial, one at a time; `holes` limits how many holes. */
export function* rowsOfSetup(name: TrialName, setup: number, holes?: number): Generator<TrialRow> {
  for (const part of trials(name, { setups: [setup, 1], ...(holes === undefined ? {} : { holes }) }))
    yield* makers[name](part)
}

/** Plain figures for the result's file, and the lines of the table. */
export interface Told {
  readonly figures: { readonly ok: boolean }
  readonly table: readonly string[]
}

const tellers: Readonly<Record<TrialName, (rows: readonly never[]) => Told>> = {
  blanks: (rows: readonly BlankRow[]) => told(blankFigures(rows), blankTable),
  classing: (rows: readonly ClassingRow[]) => told(classingFigures(rows), classingTable),
  sizing: (rows: readonly SizingRow[]) => told(sizingFigures(rows), sizingTable),
  smallest: (rows: readonly SmallestRow[]) => told(smallestFigures(rows), smallestTable)
}

function told<F extends { readonly ok: boolean }>(figures: F, tableOf: (figures: F) => readonly string[]): Told {
  return { figures, table: tableOf(figures) }
}

/** Rows as they were made and written; the caller names the trial that they are of. */
export const tellOf = (name: TrialName, rows: readonly TrialRow[]): Told => tellers[name](rows as readonly never[])
