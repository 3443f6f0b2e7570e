import { stat } from 'node:fs/promises'
import { basename, resolve } from 'node:path'
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { type DrawingForm, drawingForm, FORM_BYTES, pathText, type SheetDrawing } from '@trueloop/job/plan'
import { canonical, type DrawingState, type Entry, type EntryOf } from '@trueloop/job/record'
import type { Archive } from '../archive/index.ts'
import { replayed } from '../memory/index.ts'
import { refuse } from './codes.ts'
import type { ChainInput, JobContext } from './context.ts'
import { bytesOf } from './source.ts'

/** Drawings of the component: from the sheet or a page into the record, and from there to a page. */

/** A photo of a camera of 50 megapixels is half of it. Our own number. */
export const mostDrawingBytes = 32 * 1024 * 1024

type Subject = EntryOf<'places-drawn'>['places'][number]['place']

/**
 * Entries that bring the record up to the drawings of the sheet: each kept as an original, and the places that lie
 * elsewhere than the record says. What is gone from the sheet stays. Refuses chain/no-drawing, chain/not-a-drawing.
 */
export async function drawing(context: JobContext): Promise<Result<readonly Entry[]>> {
  const { input, state } = context
  const entries: Entry[] = []
  for (const [index, one] of (input.sheet.drawings ?? []).entries()) {
    const kept = await keptDrawing(input, one.file)
    if (isRefusal(kept)) return placed(input, kept, index)
    const before = state?.drawings.find(({ entry }) => entry.sha256 === kept.sha256)
    const facts = { ...kept, file: basename(one.file), ...(one.title === undefined ? {} : { title: one.title }) }
    entries.push(...keeping(context, facts, before), ...drawn(context, { ...one, drawing: kept.sha256, before }))
  }
  return entries
}

const placed = ({ place }: ChainInput, refusal: Refusal, index: number): Refusal => {
  const there = { ...refusal, where: { path: pathText(['drawings', index, 'file']) } }
  return place === undefined ? there : place(there)
}

type Facts = Pick<EntryOf<'drawing-kept'>, 'sha256' | 'bytes' | 'form' | 'file' | 'title'>

function keeping(context: JobContext, facts: Facts, before: DrawingState | undefined): readonly Entry[] {
  if (before !== undefined && before.entry.file === facts.file && before.entry.title === facts.title) return []
  const after = before === undefined ? 0 : context.rows.length
  const about = { kind: 'drawing-kept', facts, after }
  return [context.entry({ kind: 'drawing-kept', ...facts, signed: false }, about, 'person')]
}

interface OnDrawing extends Pick<SheetDrawing, 'places'> {
  readonly drawing: string
  readonly before: DrawingState | undefined
}

function drawn(context: JobContext, { places, drawing, before }: OnDrawing): readonly Entry[] {
  const known = new Map(before?.places.map(({ of, name, ...at }) => [`${of} ${name}`, canonical(at)]))
  const { technique } = context.input.sheet
  const of = technique.application === 'fastener hole' ? 'hole' : technique.application === 'weld' ? 'track' : 'loop'
  const moved = places.filter(({ name, ...at }) => known.get(`${of} ${name}`) !== canonical(at))
  if (moved.length === 0) return []
  const facts = { drawing, places: moved.map(({ name, ...at }) => ({ place: { of, name } as Subject, at })) }
  const about = { kind: 'places-drawn', ...facts, after: known.size === 0 ? 0 : context.rows.length }
  return [context.entry({ kind: 'places-drawn', ...facts, signed: false }, about, 'person')]
}

type Kept = Pick<EntryOf<'drawing-kept'>, 'sha256' | 'bytes' | 'form'>

async function keptDrawing({ archive, folder, signal }: ChainInput, file: string): Promise<Result<Kept>> {
  const path = resolve(folder, file)
  const trouble = await stat(path).then(
    (one) => (one.isFile() ? undefined : 'no file'),
    (error: NodeJS.ErrnoException) => error.code ?? 'unreadable'
  )
  if (trouble !== undefined) return noDrawing(file, trouble)
  return keepDrawing(archive, { file, bytes: bytesOf(path, signal) })
}

/**
 * Keeps the bytes of a drawing as an original, if they are one. Nothing is recorded yet, and nothing kept where they are
 * none: refuses chain/not-a-drawing.
 */
export async function keepDrawing(
  archive: Archive,
  { file, bytes }: { readonly file: string; readonly bytes: AsyncIterable<Uint8Array> }
): Promise<Result<Kept>> {
  const looked = new Looked(bytes)
  const kept = await archive.keepOriginal(looked)
  if (looked.trouble !== undefined) return notADrawing(file, looked.trouble)
  if (isRefusal(kept)) return kept
  if (looked.form === undefined) throw new Error('a drawing that was kept without having been looked at')
  return { sha256: kept.sha256, bytes: kept.bytes, form: looked.form }
}

/** Looks at the first bytes before any is passed on, and stops where there are too many. */
class Looked implements AsyncIterable<Uint8Array> {
  form: DrawingForm | undefined
  trouble: string | undefined
  readonly #bytes: AsyncIterable<Uint8Array>

  constructor(bytes: AsyncIterable<Uint8Array>) {
    this.#bytes = bytes
  }

  async *[Symbol.asyncIterator](): AsyncGenerator<Uint8Array> {
    let head: Uint8Array = new Uint8Array()
    let count = 0
    for await (const piece of this.#bytes) {
      count += piece.length
      if (count > mostDrawingBytes) this.#stop(`more than ${mostDrawingBytes / 1024 / 1024} MiB`)
      if (this.form !== undefined) yield piece
      else {
        head = Buffer.concat([head, piece])
        if (head.length < FORM_BYTES) continue
        yield* this.#begun(head)
      }
    }
    if (this.form === undefined) yield* this.#begun(head)
  }

  *#begun(head: Uint8Array): Generator<Uint8Array> {
    this.form = drawingForm(head.subarray(0, FORM_BYTES))
    if (this.form === undefined) this.#stop(head.length === 0 ? 'no bytes' : 'bytes that begin as none of these do')
    yield head
  }

  #stop(trouble: string): never {
    this.trouble = trouble
    throw new Error(trouble)
  }
}

const notADrawing = (file: string, found: string): Refusal =>
  refuse('chain/not-a-drawing', {
    found: `${file}: ${found}`,
    needed: `a PNG, JPEG or SVG picture or a PDF of at most ${mostDrawingBytes / 1024 / 1024} MiB`,
    remedy: 'save the drawing or photo in one of these forms, and take that'
  })

const noDrawing = (file: string, why: string): Refusal =>
  refuse('chain/no-drawing', {
    found: `no drawing that can be read: ${file} (${why})`,
    needed: 'a file that can be read, named from the folder of the job sheet',
    remedy: 'correct the name, or leave the drawing out'
  })

/** A drawing of a job as a page shows it: its form, and the path of its bytes. */
export interface ShownDrawing {
  readonly form: DrawingForm
  readonly path: string
}

/** undefined where the job's record names no such drawing; one that was taken back is named no longer. */
export async function drawingIn(
  archive: Archive,
  job: string,
  sha256: string
): Promise<Result<ShownDrawing | undefined>> {
  const rows = await archive.entries(job)
  if (isRefusal(rows)) return rows
  const found = rows.length === 0 ? undefined : replayed(rows).drawings.find(({ entry }) => entry.sha256 === sha256)
  return found === undefined ? undefined : { form: found.entry.form, path: archive.originalPath(sha256) }
}
