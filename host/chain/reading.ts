import { isRefusal, located, type Refusal, type Result } from '@trueloop/ground/refusal'
import type { Columns } from '@trueloop/job/plan'
import {
  type Mapping,
  mappingOf,
  type Overrides,
  openScan,
  type Scan,
  type ScanReader,
  type Segment,
  survey
} from '@trueloop/job/scan'
import { headFrom } from './source.ts'

/** An original in the archive. */
export interface Original {
  /** how messages name it */
  readonly name: string
  readonly bytes: number
  /** its bytes from the first one on, in pieces */
  readonly pieces: () => Promise<Result<AsyncIterable<Uint8Array>>>
}

/** An original that can be read: its columns are known. */
export interface Reading extends Original {
  readonly format: string
  readonly mapping: Mapping
  readonly rate_Hz: number
  readonly indexed: boolean
  reader(): Result<ScanReader>
}

/**
 * Looks at the head of an original and settles its columns: as stated, or as the file leaves no doubt.
 * Refuses what `survey`, `mappingOf` and `openScan` refuse, named by file.
 */
export async function prepare(original: Original, columns: Overrides | undefined): Promise<Result<Reading>> {
  const { name, bytes } = original
  const head = await headOf(original)
  if (isRefusal(head)) return head
  const named = (refusal: Refusal) => located(refusal, { file: name })
  const found = survey(head, name, bytes)
  if (isRefusal(found)) return named(found)
  const mapping = mappingOf(found, columns)
  if (isRefusal(mapping)) return named(mapping)
  const reader = openScan(head, name, mapping, bytes)
  if (isRefusal(reader)) return named(reader)
  return {
    ...original,
    format: found.format,
    mapping,
    rate_Hz: reader.rate_Hz,
    indexed: mapping.index !== undefined,
    reader: () => openScan(head, name, mapping, bytes)
  }
}

async function headOf({ pieces }: Original): Promise<Result<Uint8Array>> {
  const all = await pieces()
  return isRefusal(all) ? all : headFrom(all)
}

/** The line of the job sheet (of the recording before that of the job) as the scan room takes it. */
export const overridesOf = (columns: Columns | undefined): Overrides | undefined => columns as Overrides | undefined

export interface Listening {
  readonly take: (segment: Segment) => unknown
  readonly signal?: AbortSignal | undefined
  readonly tell?: ((bytes: number) => void) | undefined
}

/** Streams an original through `take`, piece by piece, and stops at the first refusal or when aborted (a throw). */
export async function feed(reading: Reading, { take, signal, tell }: Listening): Promise<Result<Scan>> {
  const reader = reading.reader()
  if (isRefusal(reader)) return reader
  const pieces = await reading.pieces()
  if (isRefusal(pieces)) return pieces
  let bytes = 0
  for await (const piece of pieces) {
    signal?.throwIfAborted()
    const segments = reader.push(piece)
    const no = isRefusal(segments) ? segments : taken(segments, take)
    if (no !== undefined) return no
    bytes += piece.length
    tell?.(bytes)
  }
  signal?.throwIfAborted()
  const end = reader.end()
  if (isRefusal(end)) return end
  return taken(end.segments, take) ?? end.scan
}

function taken(segments: readonly Segment[], take: Listening['take']): Refusal | undefined {
  for (const segment of segments) {
    const answer = take(segment)
    if (isRefusal(answer)) return answer
  }
  return undefined
}
