import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { Archive, Files } from '../../archive/index.ts'
import { type Measured, measure } from '../measure.ts'
import { writeWhole } from '../whole-file.ts'
import { originalPath, spoiledBackup } from './list.ts'

export interface Copying {
  readonly folder: string
  readonly hashes: readonly string[]
  readonly files: Files
  readonly signal?: AbortSignal
  readonly tell?: (text: string) => void
}

export interface Copied {
  readonly all: readonly Measured[]
  readonly copied: number
}

/** Copies what is not there yet, or there with other bytes; reads all of them, old and new, from the backup. */
export async function copyOriginals(archive: Archive, copying: Copying): Promise<Result<Copied>> {
  const { folder, hashes, files, signal, tell } = copying
  const all: Measured[] = []
  let copied = 0
  for (const [at, hash] of hashes.entries()) {
    signal?.throwIfAborted()
    tell?.(`${at + 1} of ${hashes.length} originals`)
    const path = originalPath(folder, hash)
    const there = await soundAt(files, path, signal)
    if (there?.sha256 !== hash) {
      const written = await copyOne(archive, copying, hash)
      if (isRefusal(written)) return written
      copied++
    }
    const read = there?.sha256 === hash ? there : await soundAt(files, path, signal)
    if (read?.sha256 !== hash) return spoiledBackup(folder, `original ${hash}, other bytes just after it was written`)
    all.push(read)
  }
  return { all, copied }
}

async function soundAt(files: Files, path: string, signal: AbortSignal | undefined): Promise<Measured | undefined> {
  return (await files.size(path)) === undefined ? undefined : measure(files.read(path), signal)
}

async function copyOne(archive: Archive, { folder, files, signal }: Copying, hash: string): Promise<Result<undefined>> {
  const pieces = await archive.readOriginal(hash)
  if (isRefusal(pieces)) return pieces
  return writeWhole({ files, path: originalPath(folder, hash) }, async (sink) => {
    for await (const piece of pieces) {
      signal?.throwIfAborted()
      await sink.write(piece)
    }
    return undefined
  })
}
