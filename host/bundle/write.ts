import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { refuse } from './codes.ts'
import { type Content, type Contents, type Gathering, gather, type Source } from './contents.ts'
import { startMeasuring } from './measure.ts'
import { layoutOf } from './zip/layout.ts'

/** Where the bytes of a bundle go, in order. */
export interface Sink {
  write(bytes: Uint8Array): Promise<void>
}

/** What was handed over. */
export interface Written {
  readonly job: string
  readonly count: number
  readonly head: string
  readonly files: number
  readonly bytes: number
}

export interface Writing extends Gathering {
  readonly tell?: (bytes: number, of: number) => void
}

/**
 * Writes the whole of a job as one ZIP: record, documents, originals, report, schemas, and how to read it all. The same
 * record written by the same program gives the same bytes. Nothing is written before all was read and found whole.
 * Refuses what `gather` refuses. What the sink throws is thrown on; what it has taken by then is no bundle.
 */
export async function writeBundle(source: Source, writing: Writing, sink: Sink): Promise<Result<Written>> {
  const contents = await gather(source, writing)
  if (isRefusal(contents)) return contents
  const { state, files } = contents
  const bytes = await stream(contents, writing, sink)
  if (isRefusal(bytes)) return bytes
  return { job: state.opened.job.id, count: state.count, head: state.head, files: files.length, bytes }
}

async function stream({ files }: Contents, { signal, tell }: Writing, sink: Sink): Promise<Result<number>> {
  const { headers, directory, bytes } = layoutOf(files)
  for (const [at, file] of files.entries()) {
    const header = headers[at] as (typeof headers)[number]
    await sink.write(header.bytes)
    const no = await copy(file, signal, sink)
    if (no !== undefined) return no
    tell?.(header.at + header.bytes.length + file.bytes, bytes)
  }
  signal?.throwIfAborted()
  await sink.write(directory.bytes)
  return bytes
}

/** A file that is not any more what it was when it was gathered ends the writing. */
async function copy(file: Content, signal: AbortSignal | undefined, sink: Sink) {
  const pieces = await file.pieces()
  if (isRefusal(pieces)) return pieces
  const measuring = startMeasuring()
  for await (const piece of pieces) {
    signal?.throwIfAborted()
    measuring.take(piece)
    await sink.write(piece)
  }
  const { sha256 } = measuring.end()
  return sha256 === file.sha256 ? undefined : changedMeanwhile(file, sha256)
}

const changedMeanwhile = ({ name, sha256 }: Content, found: string) =>
  refuse('bundle/record-not-whole', {
    found: `${name} with other bytes than a moment ago: hash ${found}`,
    needed: sha256,
    remedy: 'look whether another program writes there, then run the command again',
    where: { path: name }
  })
