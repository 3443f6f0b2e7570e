import { dirname } from 'node:path'
import { isRefusal, type Refusal } from '@trueloop/ground/refusal'
import { checkSheet, type Sheet, sheetOf } from '@trueloop/job/plan'
import { parseSheetDocument } from './document.ts'
import { type Placer, placerOf } from './placer.ts'
import { readResponses } from './responses.ts'
import { textOf } from './text.ts'

/** A sound sheet, or every reason why it is none, each with file, line and column. */
export type SheetFile = { readonly sheet: Sheet; readonly place: Placer } | { readonly refusals: readonly Refusal[] }

/**
 * Reads a job sheet from disk. Refuses with sheet/no-file, sheet/too-large, sheet/not-text, sheet/not-yaml,
 * sheet/empty, and all that `sheetOf` refuses with.
 */
export async function readSheetFile(path: string): Promise<SheetFile> {
  const text = await textOf(path)
  if (isRefusal(text)) return { refusals: [text] }
  const file = readSheetText(text, path)
  return 'sheet' in file ? withDocuments(file.sheet, file.place, dirname(path)) : file
}

/** The same for a text at hand; `file` is named in refusals. Documents that it names by their files are not read. */
export function readSheetText(text: string, file: string): SheetFile {
  const document = parseSheetDocument(text, file)
  if (isRefusal(document)) return { refusals: [document] }
  const reading = sheetOf(document.value)
  const place = placerOf(document, file)
  if ('sheet' in reading) return { sheet: reading.sheet, place }
  return { refusals: reading.refusals.map(place).sort(byPlace) }
}

/** The sheet with the documents that it names by their files; a document is checked where it stands, then in its sheet. */
async function withDocuments(sheet: Sheet, place: Placer, folder: string): Promise<SheetFile> {
  const read = await readResponses(sheet, place, folder)
  if ('refusals' in read) return read
  const refusals = checkSheet(read.sheet)
  return refusals.length > 0 ? { refusals: refusals.map(place) } : { sheet: read.sheet, place }
}

const byPlace = (a: Refusal, b: Refusal): number =>
  (a.where?.line ?? 0) - (b.where?.line ?? 0) || (a.where?.column ?? 0) - (b.where?.column ?? 0)
