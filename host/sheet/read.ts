import { readFile, stat } from 'node:fs/promises'
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { pathSteps, type Sheet, sheetOf } from '@trueloop/job/plan'
import { refuse } from './codes.ts'
import { parseSheetDocument, type SheetDocument } from './document.ts'

/** Largest sheet that is read, bytes: two hundred thousand recordings stay far below it. */
const mostBytes = 64 * 1024 * 1024

/** A sound sheet, or every reason why it is none, each with file, line and column. */
export type SheetFile = { readonly sheet: Sheet; readonly place: Placer } | { readonly refusals: readonly Refusal[] }

/** Puts file, line and column to a refusal that names a place inside the sheet. */
export type Placer = (refusal: Refusal) => Refusal

/**
 * Reads a job sheet from disk. Refuses with sheet/no-file, sheet/too-large, sheet/not-text, sheet/not-yaml,
 * sheet/empty, and all that `sheetOf` refuses with.
 */
export async function readSheetFile(path: string): Promise<SheetFile> {
  const text = await textOf(path)
  return isRefusal(text) ? { refusals: [text] } : readSheetText(text, path)
}

/** The same for a text at hand; `file` is named in refusals. */
export function readSheetText(text: string, file: string): SheetFile {
  const document = parseSheetDocument(text, file)
  if (isRefusal(document)) return { refusals: [document] }
  const reading = sheetOf(document.value)
  const place = placerOf(document, file)
  if ('sheet' in reading) return { sheet: reading.sheet, place }
  return { refusals: reading.refusals.map(place).sort(byPlace) }
}

const placerOf =
  (document: SheetDocument, file: string): Placer =>
  (refusal) => {
    const { path } = refusal.where ?? {}
    if (path === undefined || refusal.where?.line !== undefined) return refusal
    return { ...refusal, where: { ...refusal.where, file, ...document.positionOf(pathSteps(path)) } }
  }

const byPlace = (a: Refusal, b: Refusal): number =>
  (a.where?.line ?? 0) - (b.where?.line ?? 0) || (a.where?.column ?? 0) - (b.where?.column ?? 0)

async function textOf(path: string): Promise<Result<string>> {
  let bytes: Uint8Array
  try {
    const { size } = await stat(path)
    if (size > mostBytes) return tooLarge(path, size)
    bytes = await readFile(path)
  } catch (error) {
    return noFile(path, error)
  }
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes)
  } catch {
    return notText(path)
  }
}

const noFile = (file: string, error: unknown): Refusal =>
  refuse('sheet/no-file', {
    found: (error as NodeJS.ErrnoException).code === 'ENOENT' ? 'no such file' : String((error as Error).message),
    needed: 'a job sheet that can be read',
    remedy: 'correct the path; `trueloop rehearse` makes a sample with its recordings',
    where: { file }
  })

const tooLarge = (file: string, size: number): Refusal =>
  refuse('sheet/too-large', {
    found: `${size} bytes`,
    needed: `a job sheet of at most ${mostBytes} bytes`,
    remedy: 'name the job sheet, not a recording',
    where: { file }
  })

const notText = (file: string): Refusal =>
  refuse('sheet/not-text', {
    found: 'bytes that are no UTF-8 text',
    needed: 'a job sheet, YAML or JSON in UTF-8',
    remedy: 'save it as UTF-8, or name the job sheet instead of a recording',
    where: { file }
  })
