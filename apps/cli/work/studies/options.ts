import { type Command, InvalidArgumentError } from 'commander'
import type { RowsFrom } from './table-rows.ts'

/** Options that all studies share. */
export interface Asked extends Omit<RowsFrom, 'path' | 'columns'> {
  readonly column?: Readonly<Record<string, string>>
  readonly out?: string
  readonly report?: string
  readonly points?: string
  readonly json?: boolean
}

export const rowsOptions = (command: Command): Command =>
  command
    .option('--unit <unit>', 'unit of what the table has no column for')
    .option('--kind <kind>', 'of a closed trial: corner, mid-bore or through')
    .option('--column <name=header>', 'header of a column, where it is not the name; as often as needed', columnOption)

export const reportOption = (command: Command): Command =>
  command.option('--report <file>', 'the same as a report, .html or .pdf')

/** Reads name=header, beside those before it. */
export function columnOption(
  text: string,
  before: Readonly<Record<string, string>> = {}
): Readonly<Record<string, string>> {
  const at = text.indexOf('=')
  if (at < 1 || at === text.length - 1) throw new InvalidArgumentError('needed: name=header, such as size=depth')
  return { ...before, [text.slice(0, at)]: text.slice(at + 1) }
}

export const pointsOption = (command: Command): Command =>
  command.option('--points <file>', 'the curve as a table, point by point, CSV')

export const fromOf = (path: string, { unit, kind, column: columns }: Asked): RowsFrom => ({
  ...{ path, unit, kind, columns }
})
