import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { Examination } from '@trueloop/job/examine'
import {
  canonical,
  type EntryRow,
  type JobState,
  type Moment,
  type Named,
  type ReportInput
} from '@trueloop/job/record'
import type { Archive } from '../archive/index.ts'
import { now } from '../clock/index.ts'
import { replayed } from '../memory/index.ts'
import { type Attachment, reportHtml as pressHtml, reportPdf as pressPdf } from '../press/index.ts'
import { pictureOf } from './pictures.ts'

/** Name and version of this program, as the report prints them. */
export const program = { name: 'Trueloop', version: '0.1.0' } as const

/** The report of one moment, in the forms that it is asked for. */
export interface Report {
  readonly html: () => string
  /** refuses `press/no-typesetter` */
  readonly pdf: () => Promise<Result<Uint8Array>>
}

/** The report of a job as its record stands now; undefined where the archive has no such job. */
export async function reportOf(archive: Archive, job: string): Promise<Result<Report | undefined>> {
  const rows = await archive.entries(job)
  if (isRefusal(rows)) return rows
  if (rows.length === 0) return undefined
  const input = await reportInput(archive, replayed(rows))
  if (isRefusal(input)) return input
  return { html: () => pressHtml(input), pdf: () => pdfWithRecord(input, rows) }
}

/** The report of a job as one HTML document; undefined where the archive has no such job. */
export async function reportHtml(archive: Archive, job: string): Promise<Result<string | undefined>> {
  const report = await reportOf(archive, job)
  return report === undefined || isRefusal(report) ? report : report.html()
}

/** The same as PDF, the record attached; undefined where the archive has no such job. Refuses `press/no-typesetter`. */
export async function reportPdf(archive: Archive, job: string): Promise<Result<Uint8Array | undefined>> {
  const report = await reportOf(archive, job)
  return report === undefined || isRefusal(report) ? report : report.pdf()
}

/** A report as PDF, the record attached. Refuses `press/no-typesetter`. */
export const pdfWithRecord = (input: ReportInput, rows: readonly EntryRow[]): Promise<Result<Uint8Array>> =>
  pressPdf(input, [recordFile(input.state.opened.job.id, rows)])

/**
 * The entries that the report is a projection of, as canonical JSON. The hash of each is that of its other members'
 * canonical JSON, so that any tool with SHA-256 checks the chain without this program.
 */
function recordFile(job: string, rows: readonly EntryRow[]): Attachment {
  const entries = rows.map(({ seq, previous, body, hash }) => ({ entry: JSON.parse(body), hash, previous, seq }))
  return {
    ...{ name: 'record.json', mime: 'application/json', relationship: 'source' },
    description: 'The entries of the record of which this report is a projection, with their chain of hashes',
    bytes: Buffer.from(canonical({ trueloop: 'entries/1', job, entries }), 'utf8')
  }
}

/** Where a report's documents come from: an archive, or a job that was handed over. */
export type Documents = Pick<Archive, 'document'>

/** All that the report may say, gathered from the archive, pictures too. */
export async function reportInput(archive: Archive, state: JobState): Promise<Result<ReportInput>> {
  const input = await plainReportInput(archive, state, now())
  if (isRefusal(input)) return input
  return { ...input, examinations: await Promise.all(input.examinations.map((one) => withPicture(archive, one))) }
}

/** The same from record and documents alone, without the pictures that may be deleted, and as of a stated moment. */
export async function plainReportInput(
  archive: Documents,
  state: JobState,
  printed: Moment
): Promise<Result<ReportInput>> {
  const standards = await documentsOf(archive, hashesOf(state, 'reference standard'))
  if (isRefusal(standards)) return standards
  const standardizations = await documentsOf(
    archive,
    state.standardizations.map((one) => one.standardization)
  )
  if (isRefusal(standardizations)) return standardizations
  const examinations = await documentsOf(archive, examinationsOf(state))
  if (isRefusal(examinations)) return examinations
  const technique = await documentsOf(archive, state.technique === undefined ? [] : [state.technique])
  if (isRefusal(technique)) return technique
  const registered = await documentsOf(
    archive,
    state.held.flatMap(({ rows }) => rows.map(({ document }) => document))
  )
  if (isRefusal(registered)) return registered
  const [inForce] = technique
  return {
    state,
    ...(inForce === undefined ? {} : { technique: inForce as NonNullable<ReportInput['technique']> }),
    registered: registered as ReportInput['registered'],
    standards: standards as ReportInput['standards'],
    standardizations: standardizations as ReportInput['standardizations'],
    examinations: examinations as readonly Named<Examination>[],
    refused: [],
    program,
    printed
  }
}

const hashesOf = (state: JobState, what: JobState['documents'][number]['what']): readonly string[] =>
  state.documents.filter((one) => one.what === what).map(({ document }) => document)

const examinationsOf = ({ places }: JobState): readonly string[] =>
  places.flatMap(({ examinations }) => examinations.map(({ examination }) => examination))

async function documentsOf(archive: Documents, hashes: readonly string[]): Promise<Result<readonly Named<unknown>[]>> {
  const all: Named<unknown>[] = []
  for (const hash of new Set(hashes)) {
    const document = await archive.document(hash)
    if (isRefusal(document)) return document
    all.push({ hash, document: JSON.parse(document.text) })
  }
  return all
}

async function withPicture(archive: Archive, { hash, document }: Named<Examination>): Promise<Named<Examination>> {
  const picture = await pictureOf(archive, hash)
  return { hash, document: picture === undefined ? document : { ...document, picture } }
}
