import { constants, createReadStream, openSync } from 'node:fs'
import { stat } from 'node:fs/promises'
import { Socket } from 'node:net'
import { addAbortSignal, type Readable } from 'node:stream'
import { HEAD_LIMIT } from '@trueloop/job/scan'

const pieceBytes = 1 << 20

/**
 * The bytes of a recording, from a file or a named pipe, in pieces: never more than a few of them in memory.
 * An abort ends it with a throw, also while a pipe gives nothing.
 */
export async function* bytesOf(path: string, signal?: AbortSignal): AsyncGenerator<Uint8Array> {
  const stream = (await stat(path)).isFIFO() ? pipeAt(path) : createReadStream(path, { highWaterMark: pieceBytes })
  yield* abortable(stream, signal)
}

export const abortable = <S extends Readable>(stream: S, signal: AbortSignal | undefined): S =>
  signal === undefined ? stream : addAbortSignal(signal, stream)

/**
 * Opened without waiting for a writer and read as a socket: an open that waits holds a thread that nothing can end, and
 * with it the whole process.
 */
function pipeAt(path: string): Readable {
  const fd = openSync(path, constants.O_RDONLY | constants.O_NONBLOCK)
  return new Socket({ fd, readable: true, writable: false })
}

/** The first bytes of a recording, as many as a survey looks at; reads no further. */
export async function headFrom(pieces: AsyncIterable<Uint8Array>): Promise<Uint8Array> {
  const head = new Uint8Array(HEAD_LIMIT)
  let filled = 0
  for await (const piece of pieces) {
    const part = piece.subarray(0, head.length - filled)
    head.set(part, filled)
    filled += part.length
    if (filled === head.length) break
  }
  return head.slice(0, filled)
}
