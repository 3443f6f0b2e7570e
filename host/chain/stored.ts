import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { Examination, Picture } from '@trueloop/job/examine'
import type { EntryOf } from '@trueloop/job/record'
import type { Archive } from '../archive/index.ts'
import { pictureOf } from './pictures.ts'

export interface StoredExamination {
  readonly job: string
  /** name of the document: the hash of its canonical text */
  readonly examination: string
  readonly of: EntryOf<'examined'>['subject']['of']
  readonly name: string
  /** as it is stored; of its indications this scan's only */
  readonly document: Omit<Examination, 'picture'>
  /** absent where the archive has none any more: it is a cache that may be deleted */
  readonly picture?: Picture
}

/**
 * An examination of a job, superseded or not; undefined where the job's record names no such document. The hash is looked
 * up in the record before anything is read by that name.
 */
export async function examinationIn(
  archive: Archive,
  job: string,
  hash: string
): Promise<Result<StoredExamination | undefined>> {
  const rows = await archive.entries(job)
  if (isRefusal(rows)) return rows
  const examined = rows
    .filter(({ kind, body }) => kind === 'examined' && body.includes(hash))
    .map(({ body }) => JSON.parse(body) as EntryOf<'examined'>)
    .find(({ kind, examination }) => kind === 'examined' && examination === hash)
  if (examined === undefined) return undefined
  const document = await archive.document(hash)
  if (isRefusal(document)) return document
  const picture = await pictureOf(archive, hash)
  const { of, name } = examined.subject
  return {
    ...{ job, examination: hash, of, name, document: JSON.parse(document.text) },
    ...(picture === undefined ? {} : { picture })
  }
}
