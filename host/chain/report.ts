import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { Examination } from '@trueloop/job/examine'
import { type JobState, type Named, type ReportInput, replay } from '@trueloop/job/record'
import type { Archive } from '../archive/index.ts'
import { now } from '../clock/index.ts'
import { reportHtml as pressed } from '../press/index.ts'
import { pictureOf } from './pictures.ts'

/** Name and version of this program, as the report prints them. */
export const program = { name: 'Trueloop', version: '0.1.0' } as const

/** The report of a job as one HTML document; undefined where the archive has no such job. */
export async function reportHtml(archive: Archive, job: string): Promise<Result<string | undefined>> {
  const rows = await archive.entries(job)
  if (isRefusal(rows)) return rows
  if (rows.length === 0) return undefined
  const input = await reportInput(archive, replay(rows))
  return isRefusal(input) ? input : pressed(input)
}

/** All that the report may say, gathered from the archive. */
export async function reportInput(archive: Archive, state: JobState): Promise<Result<ReportInput>> {
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
  const [inForce] = technique
  return {
    state,
    ...(inForce === undefined ? {} : { technique: inForce as NonNullable<ReportInput['technique']> }),
    standards: standards as ReportInput['standards'],
    standardizations: standardizations as ReportInput['standardizations'],
    examinations: await Promise.all(examinations.map((one) => withPicture(archive, one as Named<Examination>))),
    refused: [],
    program,
    printed: now()
  }
}

const hashesOf = (state: JobState, what: JobState['documents'][number]['what']): readonly string[] =>
  state.documents.filter((one) => one.what === what).map(({ document }) => document)

const examinationsOf = ({ places }: JobState): readonly string[] =>
  places.flatMap(({ examinations }) => examinations.map(({ examination }) => examination))

async function documentsOf(archive: Archive, hashes: readonly string[]): Promise<Result<readonly Named<unknown>[]>> {
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
