import { closeSync, openSync, readSync } from 'node:fs'
import type { Result } from '@trueloop/ground/refusal'
import { type Code, refuse } from './codes.ts'

/** The bytes of a recording, or the file that holds them and how many they are. */
export type Source = Uint8Array | { readonly path: string; readonly bytes: number }

export interface ByteSource {
  /** all of them */
  readonly bytes: number
  /**
   * The next bytes, as many as asked for unless the end comes before; none at the end. Those read first hold until the
   * source is closed, further ones until the next are read.
   */
  read(most: number): Result<Uint8Array, Code>
  close(): void
}

/** Reads in step, without turns of the event loop: a worker has nothing else to do. Refuses `crew/unreadable-recording`. */
export function openSource(source: Source): Result<ByteSource, Code> {
  return source instanceof Uint8Array ? ofMemory(source) : guarded(source.path, () => new FileSource(source))
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

/** Blocks that were read into, for the next file: fresh memory has to be cleared, and keeps the garbage collector busy. */
const spare: Uint8Array[] = []
const MOST_SPARE = 2

/** So many bytes are asked for where, by what was said of the file, none are left: it may have grown. */
const LOOK_BEYOND = 4096

class FileSource implements ByteSource {
  readonly bytes: number
  readonly #path: string
  readonly #fd: number
  /** for the first bytes, and for all others */
  readonly #blocks: Uint8Array[] = []
  #reads = 0
  #left: number

  constructor({ path, bytes }: Exclude<Source, Uint8Array>) {
    this.bytes = bytes
    this.#path = path
    this.#fd = openSync(path, 'r')
    this.#left = bytes
  }

  read(most: number): Result<Uint8Array, Code> {
    const block = this.#block(Math.min(most, Math.max(LOOK_BEYOND, this.#left)))
    return guarded(this.#path, () => {
      const length = filled(this.#fd, block)
      this.#left -= length
      return block.subarray(0, length)
    })
  }

  close(): void {
    closeSync(this.#fd)
    for (const block of this.#blocks) if (spare.length < MOST_SPARE) spare.push(block)
  }

  #block(length: number): Uint8Array {
    const which = Math.min(1, this.#reads++)
    const known = this.#blocks[which] ?? spare.pop()
    const block = known !== undefined && known.length >= length ? known : new Uint8Array(length)
    this.#blocks[which] = block
    return block.subarray(0, length)
  }
}

/** Fills a block, unless the end comes before; gives how much of it. */
function filled(fd: number, block: Uint8Array): number {
  let length = 0
  for (let got = -1; got !== 0 && length < block.length; length += got)
    got = readSync(fd, block, length, block.length - length, null)
  return length
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
