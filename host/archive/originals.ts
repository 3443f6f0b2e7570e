import { join } from 'node:path'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { startSha256 } from '../hash/index.ts'
import { type Code, refuse } from './codes.ts'
import type { Files, Writing } from './files.ts'
import { damaged, guarded } from './trouble.ts'

/** An original as it was kept. `already`: the same bytes were there before, whatever the file was called. */
export interface Kept {
  readonly sha256: string
  readonly bytes: number
  readonly already: boolean
}

export interface Originals {
  readonly folder: string
  readonly files: Files
  /** a name for an unfinished file that no other call takes */
  readonly freshName: () => string
}

const unfinished = 'unfinished'

export const originalPath = (folder: string, sha256: string): string => join(folder, sha256.slice(0, 2), sha256)

/**
 * Keeps bytes unchanged under the name of their SHA-256: written beside, synced, renamed, folder synced. They are hashed
 * while they pass, never all in memory. Refuses `archive/disk-full`, `archive/unreachable`, `archive/damaged` (a file of
 * that name with another length), `archive/unreadable-source`. Under a final name lies the whole or nothing.
 */
export async function keep(originals: Originals, source: AsyncIterable<Uint8Array>): Promise<Result<Kept, Code>> {
  const { folder, files, freshName } = originals
  const beside = join(folder, unfinished, freshName())
  const written = await guarded(beside, () => writeBeside(originals, beside, source))
  const kept = isRefusal(written) ? written : await guarded(folder, () => settle(originals, beside, written))
  if (isRefusal(kept)) await ignoring(() => files.remove(beside))
  return kept
}

/** Removing what is left over may fail for the reason that stopped the writing; opening the archive removes it then. */
async function ignoring(step: () => Promise<void>): Promise<void> {
  try {
    await step()
  } catch {
    // the next opening of the archive sweeps
  }
}

interface Written {
  readonly sha256: string
  readonly bytes: number
}

async function writeBeside({ folder, files }: Originals, beside: string, source: AsyncIterable<Uint8Array>) {
  await files.makeFolder(join(folder, unfinished))
  const file = await files.create(beside)
  try {
    return await copy(file, source)
  } finally {
    await file.close()
  }
}

async function copy(file: Writing, source: AsyncIterable<Uint8Array>): Promise<Result<Written, Code>> {
  const hash = startSha256()
  let bytes = 0
  const pieces = source[Symbol.asyncIterator]()
  try {
    for (;;) {
      const next = await nextPiece(pieces)
      if (isRefusal(next)) return next
      if (next === undefined) break
      hash.update(next)
      bytes += next.length
      await file.write(next)
    }
  } finally {
    await pieces.return?.()
  }
  await file.sync()
  return { sha256: hash.digest(), bytes }
}

/** A source that can't be read is not the archive's own trouble. */
async function nextPiece(pieces: AsyncIterator<Uint8Array>): Promise<Result<Uint8Array | undefined, Code>> {
  try {
    const { done, value } = await pieces.next()
    return done === true ? undefined : value
  } catch (error) {
    return refuse('archive/unreadable-source', {
      found: `a recording that can not be read to its end: ${(error as Error).message}`,
      needed: 'a file or stream that gives all its bytes',
      remedy: 'copy the file again from where it was taken, then run the command again'
    })
  }
}

async function settle(
  { folder, files }: Originals,
  beside: string,
  { sha256, bytes }: Written
): Promise<Result<Kept, Code>> {
  const path = originalPath(folder, sha256)
  const there = await files.size(path)
  const shelf = join(folder, sha256.slice(0, 2))
  if (there === bytes) {
    await files.remove(beside)
    await files.syncFolder(shelf)
    return { sha256, bytes, already: true }
  }
  if (there !== undefined) return damaged(path, `an original of ${there} bytes where ${bytes} belong`)
  await files.makeFolder(shelf)
  await files.rename(beside, path)
  await files.syncFolder(shelf)
  return { sha256, bytes, already: false }
}

/** Removes what a stopped run left unfinished. Only the one program that has the archive open may do so. */
export async function sweep({ folder, files }: Originals): Promise<void> {
  const place = join(folder, unfinished)
  await files.makeFolder(place)
  for (const name of await files.list(place)) await files.remove(join(place, name))
}

/** The bytes of an original. Refuses `archive/no-original`. */
export async function readKept(
  { folder, files }: Originals,
  sha256: string
): Promise<Result<AsyncIterable<Uint8Array>, Code>> {
  const path = originalPath(folder, sha256)
  const size = /^[0-9a-f]{64}$/.test(sha256) ? await guarded(path, () => files.size(path)) : undefined
  if (isRefusal(size)) return size
  if (size !== undefined) return files.read(path)
  return refuse('archive/no-original', {
    found: `no file under the name ${sha256}`,
    needed: 'the original recording under the hash of its bytes',
    remedy: 'put the recording back from a backup; verify tells whether it is the same',
    where: { file: path }
  })
}
