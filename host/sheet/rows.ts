import type { Refusal } from '@trueloop/ground/refusal'
import { type PlacedRow, rowsOf } from '@trueloop/job/plan'
import type { Placer } from './placer.ts'
import { readPlainFile } from './plain.ts'

/** Rows of registers, or every reason why they are none, each with file, line and column. */
export type RowsFile =
  | { readonly rows: readonly PlacedRow[]; readonly place: Placer }
  | { readonly refusals: readonly Refusal[] }

/**
 * Reads a file of rows for the registers, YAML or JSON. Refuses with the codes of this room, and all that `rowsOf`
 * refuses with.
 */
export async function readRowsFile(path: string): Promise<RowsFile> {
  const file = await readPlainFile(path, wanted)
  if ('refusals' in file) return file
  const { value, place } = file
  const reading = rowsOf(value)
  return 'rows' in reading ? { rows: reading.rows, place } : { refusals: reading.refusals.map(place).sort(byPlace) }
}

const wanted = {
  needed: 'a file of rows for the registers, YAML or JSON in UTF-8',
  remedy: 'correct the path, or the text at this place; the operator guide has a file to begin with'
}

const byPlace = (a: Refusal, b: Refusal): number =>
  (a.where?.line ?? 0) - (b.where?.line ?? 0) || (a.where?.column ?? 0) - (b.where?.column ?? 0)
