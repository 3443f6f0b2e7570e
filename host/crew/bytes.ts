import { closeSync, openSync, readSync } from 'node:fs'
import type { Result } from '@trueloop/ground/refusal'
import { type Code, refuse } from './codes.ts'

/** The bytes of a recording, or the file that holds them and how many they are. */
export type Source = Uint8Array | { readonly path: string; readonly bytes: number }

export interface ByteSource {
  /** all of them */
  readonly bytes: number
  /** The next bytes, as many as asked for unless the end comes before; none at the end. A fresh copy, or part of what was given. */
  read(most: number): Result<Uint8Array, Code>
  close(): void
}

/** Reads in step, without turns of the event loop: a worker has nothing else to do. Refuses `crew/unreadable-recording`. */
export function openSource(source: Source): Result<ByteSource, Code> {
  return source instanceof Uint8Array ? ofMemory(source) : guarded(source.path, () => ofFile(source))
}

function ofMemory(all: Uint8Array): ByteSource {
  let at = 0
  const read = (most: number): Uint8Array => {
    const piece = all.subarray(at, at + most)
    at += piece.length
    return piece
  }
  return { bytes: all.length, read, close: () => undefined }
}

function ofFile({ path, bytes }: Exclude<Source, Uint8Array>): ByteSource {
  const fd = openSync(path, 'r')
  return { bytes, read: (most) => guarded(path, () => filled(fd, most)), close: () => closeSync(fd) }
}

function filled(fd: number, most: number): Uint8Array {
  const block = new Uint8Array(most)
  let length = 0
  for (let got = -1; got !== 0 && length < most; length += got) got = readSync(fd, block, length, most - length, null)
  return block.subarray(0, length)
}

function guarded<T>(path: string, work: () => T): Result<T, Code> {
  try {
    return work()
  } catch (error) {
    return refuse('crew/unreadable-recording', {
      found: (error as Error).message,
      needed: 'a recording whose bytes can be read',
      remedy: 'see that the file is there and may be read, then run the command again',
      where: { file: path }
    })
  }
}
