import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { Recipe } from '@trueloop/job/examine'
import type { Mapping } from '@trueloop/job/scan'
import type { Archive } from '../archive/index.ts'
import { workOf } from './again.ts'
import { recipeOf } from './examine.ts'
import { examinedIn } from './walls.ts'

/** All that a page needs to examine a recording once more by itself, but for its bytes. Plain data. */
export interface Preview {
  readonly name: string
  readonly bytes: number
  readonly mapping: Mapping
  readonly recipe: Recipe
}

/**
 * What an examination of a job was made from. What enters the record is examined here; what a page makes of this is a
 * preview with the same findings. undefined where the record names no such examination.
 */
export async function previewIn(archive: Archive, job: string, hash: string): Promise<Result<Preview | undefined>> {
  const rows = await archive.entries(job)
  if (isRefusal(rows)) return rows
  const examined = examinedIn(rows, hash)
  if (examined === undefined) return undefined
  const work = await workOf(archive, rows, examined)
  if (isRefusal(work)) return work
  const { name, bytes, mapping } = work.kept.reading
  return { name, bytes, mapping, recipe: recipeOf(work) }
}

/** The path of an original that the job's record names; undefined where it names none such. */
export async function originalIn(archive: Archive, job: string, sha256: string): Promise<Result<string | undefined>> {
  const rows = await archive.entries(job)
  if (isRefusal(rows)) return rows
  const isKept = ({ kind, body }: (typeof rows)[number]) =>
    kind === 'recording-kept' && (JSON.parse(body) as { readonly sha256: string }).sha256 === sha256
  return rows.some(isKept) ? archive.originalPath(sha256) : undefined
}

/** A document that the job's record names, as text; undefined where it names none such. */
export async function documentIn(archive: Archive, job: string, hash: string): Promise<Result<string | undefined>> {
  const rows = await archive.entries(job)
  if (isRefusal(rows)) return rows
  const names = ({ body }: (typeof rows)[number]) => {
    const entry = JSON.parse(body) as { readonly document?: string; readonly standardization?: string }
    return entry.document === hash || entry.standardization === hash
  }
  if (!rows.some(names)) return undefined
  const document = await archive.document(hash)
  return isRefusal(document) ? document : document.text
}
