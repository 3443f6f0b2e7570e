import { isRefusal, type Refusal } from '@trueloop/ground/refusal'
import { parseSheetDocument } from './document.ts'
import { type Placer, placerOf } from './placer.ts'
import { textOf } from './text.ts'

/** A file of YAML or JSON as plain data, with what puts places to refusals of it. */
export type PlainFile = { readonly value: unknown; readonly place: Placer } | { readonly refusals: readonly Refusal[] }

/** What such a file is, for the person who named another one. */
export interface WantedFile {
  readonly needed: string
  readonly remedy: string
}

/** Reads a file, YAML or JSON. Refuses with the codes of this room, in the words of what was wanted. */
export async function readPlainFile(path: string, wanted: WantedFile): Promise<PlainFile> {
  const text = await textOf(path)
  if (isRefusal(text)) return { refusals: [{ ...text, ...wanted }] }
  const document = parseSheetDocument(text, path)
  if (isRefusal(document)) return { refusals: [{ ...document, ...wanted }] }
  return { value: document.value, place: placerOf(document, path) }
}
