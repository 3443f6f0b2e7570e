import { isRefusal, type Refusal } from '@trueloop/ground/refusal'
import { type PlacedRow, rowsOf } from '@trueloop/job/plan'
import { parseSheetDocument } from './document.ts'
import { type Placer, placerOf } from './placer.ts'
import { textOf } from './text.ts'

/** Rows of registers, or every reason why they are none, each with file, line and column. */
export type RowsFile =
  | { readonly rows: readonly PlacedRow[]; readonly place: Placer }
  | { readonly refusals: readonly Refusal[] }

/**
 * Reads a file of rows for the registers, YAML or JSON. Refuses with the codes of this room, and all that `rowsOf`
 * refuses with.
 */
export async function readRowsFile(path: string): Promise<RowsFile> {
  const text = await textOf(path)
  if (isRefusal(text)) return { refusals: [ofRows(text)] }
  const document = parseSheetDocument(text, path)
  if (isRefusal(document)) return { refusals: [ofRows(document)] }
  const place = placerOf(document, path)
  const reading = rowsOf(document.value)
  return 'rows' in reading ? { rows: reading.rows, place } : { refusals: reading.refusals.map(place).sort(byPlace) }
}

/** What can't be read at all is no file of rows either: the wanted file is another than a job sheet. */
const ofRows = (refusal: Refusal): Refusal => ({
  ...refusal,
  needed: 'a file of rows for the registers, YAML or JSON in UTF-8',
  remedy: 'correct the path, or the text at this place; the operator guide has a file to begin with'
})

const byPlace = (a: Refusal, b: Refusal): number =>
  (a.where?.line ?? 0) - (b.where?.line ?? 0) || (a.where?.column ?? 0) - (b.where?.column ?? 0)
