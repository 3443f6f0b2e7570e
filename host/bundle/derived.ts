import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { sheetJsonSchema } from '@trueloop/job/plan'
import { type EntryRow, entryJsonSchema, type JobState, type ReportInput } from '@trueloop/job/record'
import { type Documents, plainReportInput, program } from '../chain/index.ts'
import { reportHtml } from '../press/index.ts'
import type { NamedByRecord } from './named.ts'
import { names } from './names.ts'
import type { ProgramName } from './text/job-json.ts'
import { readMe } from './text/read-me.ts'
import { originalsTable } from './text/table.ts'

/** Gives the report as PDF. The same input must give the same bytes: no clock, no random source. */
export type PdfWriter = (input: ReportInput, rows: readonly EntryRow[]) => Promise<Result<Uint8Array>>

export interface Derived {
  readonly program: ProgramName
  readonly files: readonly { readonly name: string; readonly bytes: Uint8Array }[]
}

export interface RecordOfJob {
  readonly state: JobState
  readonly rows: readonly EntryRow[]
  readonly named: NamedByRecord
}

/**
 * The files of a bundle that follow from the record and this program alone: page to read first, table of names, report,
 * schemas. The report is as of the last entry, and without pictures: these are caches that may be gone tomorrow. A PDF that
 * lies there already is named and not written again: its printer may not be at hand.
 */
export async function derivedTexts(
  source: Documents,
  record: RecordOfJob,
  pdf: PdfWriter | 'lies there' | undefined
): Promise<Result<Derived>> {
  const { state, named } = record
  const input = await plainReportInput(source, state, asOf(state))
  if (isRefusal(input)) return input
  const printed = typeof pdf === 'function' ? await pdf(input, record.rows) : undefined
  if (isRefusal(printed)) return printed
  const hasPdf = pdf !== undefined
  const texts = [
    [names.readMe, readMe({ ...record, program, hasPdf })],
    [names.originalsTable, originalsTable(named)],
    [names.report, reportHtml(input)],
    [names.entrySchema, json(entryJsonSchema())],
    [names.sheetSchema, json(sheetJsonSchema())]
  ] as const
  const files = texts.map(([name, text]) => ({ name: name as string, bytes: Buffer.from(text, 'utf8') as Uint8Array }))
  return { program, files: printed === undefined ? files : [...files, { name: names.pdf, bytes: printed }] }
}

const asOf = ({ entries }: JobState): ReportInput['printed'] =>
  entries[entries.length - 1]?.at as ReportInput['printed']

const json = (value: unknown): string => `${JSON.stringify(value, null, 1)}\n`
