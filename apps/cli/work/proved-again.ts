import { isRefusal, type Refusal } from '@trueloop/ground/refusal'
import { program } from '@trueloop/host/chain'
import { sha256 } from '@trueloop/host/hash'
import { readPlainFile } from '@trueloop/host/sheet'
import { type Attachable, againstTrial, attachable, differing, proveAgain, resultOf } from '@trueloop/job/prove'
import { hitRows, type RowsWanted } from './hit-rows.ts'

export interface ResultFiles extends RowsWanted {
  readonly result: string
  readonly rows: string
}

/**
 * A result of "prove hits", worked out again from its rows: nothing is attached on the word of a file. Refuses: as
 * readPlainFile, hitRows, proveAgain, differing and attachable.
 */
export async function provedAgain(
  files: ResultFiles
): Promise<{ readonly attachable: Attachable } | { readonly refusals: readonly Refusal[] }> {
  const file = await readPlainFile(files.result, {
    needed: 'a result as "prove hits" wrote it',
    remedy: 'name the file that was written with --out'
  })
  if ('refusals' in file) return file
  const before = resultOf(file.value)
  if (isRefusal(before)) return { refusals: [file.place(before)] }
  const given = await hitRows(files.rows, files)
  if ('refusals' in given) return given
  const stranger = againstTrial(before.study, given.isReal)
  if (stranger !== undefined) return { refusals: [stranger] }
  const with_ = { hash: sha256, program: `${program.name} ${program.version}` }
  const again = proveAgain(before, given.rows, with_)
  if (isRefusal(again)) return { refusals: [again] }
  const words = again.same ? attachable(again.result) : differing()
  return isRefusal(words) ? { refusals: [words] } : { attachable: words }
}
