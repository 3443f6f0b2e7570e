import { isRefusal, type Refusal } from '@trueloop/ground/refusal'
import { readPlainFile } from '@trueloop/host/sheet'
import { type Attachable, attachable, differing, resultOf } from '@trueloop/job/prove'
import { doorOf } from './studies/index.ts'
import type { RowsFrom } from './studies/table-rows.ts'

export interface ResultFiles extends Omit<RowsFrom, 'path'> {
  readonly result: string
  readonly rows: string
}

/**
 * A result of a study, worked out again from its rows: nothing is attached on the word of a file. Refuses: as
 * readPlainFile, the rows, the study, differing and attachable.
 */
export async function provedAgain(
  files: ResultFiles
): Promise<{ readonly attachable: Attachable } | { readonly refusals: readonly Refusal[] }> {
  const file = await readPlainFile(files.result, {
    needed: 'a result as "prove hits" or "prove signals" wrote it',
    remedy: 'name the file that was written with --out'
  })
  if ('refusals' in file) return file
  const before = resultOf(file.value)
  if (isRefusal(before)) return { refusals: [file.place(before)] }
  const again = await doorOf(before).again(before, { ...files, path: files.rows })
  if ('refusals' in again) return again
  const words = again.same ? attachable(again.result) : differing()
  return isRefusal(words) ? { refusals: [words] } : { attachable: words }
}
