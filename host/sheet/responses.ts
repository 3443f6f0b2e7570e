import { resolve } from 'node:path'
import { isRefusal, type Refusal } from '@trueloop/ground/refusal'
import {
  type NamedDocument,
  namedDocuments,
  notTheForm,
  type ResponseDocument,
  responseOf,
  type Sheet,
  withDocument
} from '@trueloop/job/plan'
import { parseSheetDocument } from './document.ts'
import { type Placer, placerOf } from './placer.ts'
import { textOf } from './text.ts'

/**
 * Reads the documents that a sheet names by their files, each placed by line and column of its own file. Refuses what
 * reading a sheet and `responseOf` refuse, and plan/document-not-read for a document of another form.
 */
export async function readResponses(
  sheet: Sheet,
  place: Placer,
  folder: string
): Promise<{ readonly sheet: Sheet } | { readonly refusals: readonly Refusal[] }> {
  let whole = sheet
  const refusals: Refusal[] = []
  for (const named of namedDocuments(sheet)) {
    const read = await documentAt(named, place, folder)
    if ('refusals' in read) refusals.push(...read.refusals)
    else if ('holes' in whole) whole = withDocument(whole, named, read.document)
  }
  return refusals.length > 0 ? { refusals } : { sheet: whole }
}

type Read = { readonly document: ResponseDocument } | { readonly refusals: readonly Refusal[] }

async function documentAt(named: NamedDocument, place: Placer, folder: string): Promise<Read> {
  const path = resolve(folder, named.file)
  const text = await textOf(path)
  if (isRefusal(text)) return { refusals: [text] }
  const parsed = parseSheetDocument(text, path)
  if (isRefusal(parsed)) return { refusals: [parsed] }
  const read = responseOf(parsed.value)
  if ('refusals' in read) return { refusals: read.refusals.map(placerOf(parsed, path)) }
  const { trueloop } = read.document
  return trueloop === named.form ? read : { refusals: [place(notTheForm(named, `trueloop: ${trueloop}`))] }
}
