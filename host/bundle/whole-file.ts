import { dirname } from 'node:path'
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import type { Files } from '../archive/index.ts'
import { type Code, refuse } from './codes.ts'
import type { Sink } from './write.ts'

/** A file that appears under its name whole or not at all. */
export interface WholeFile {
  readonly files: Files
  readonly path: string
}

/**
 * Gives the work a sink that writes beside, and puts the file in its place when all is written and synced. Where the
 * work refuses or throws, nothing is left; after a kill what lies beside is swept by the next writing.
 * Refuses bundle/unwritable-file and what the work refuses.
 */
export async function writeWhole<T>(
  { files, path }: WholeFile,
  work: (sink: Sink) => Promise<Result<T>>
): Promise<Result<T>> {
  const beside = `${path}.unfinished`
  try {
    await files.makeFolder(dirname(path))
    await files.remove(beside)
    const made = await writeBeside(files, beside, work)
    if (isRefusal(made)) return made
    await files.rename(beside, path)
    await files.syncFolder(dirname(path))
    return made
  } catch (error) {
    return troubleOf(error, path)
  } finally {
    await files.remove(beside).catch(() => undefined)
  }
}

async function writeBeside<T>(
  files: Files,
  beside: string,
  work: (sink: Sink) => Promise<Result<T>>
): Promise<Result<T>> {
  const file = await files.create(beside)
  try {
    const made = await work(file)
    if (!isRefusal(made)) await file.sync()
    return made
  } finally {
    await file.close()
  }
}

/** What the operating system said, as a refusal; anything else is thrown on. */
export function troubleOf(error: unknown, path: string): Refusal<Code> {
  const { code, syscall, message } = error as NodeJS.ErrnoException
  if (typeof code !== 'string' || !(syscall !== undefined || code === 'ENOSPC')) throw error
  return refuse('bundle/unwritable-file', {
    found: code === 'ENOSPC' ? 'no room left to write' : message,
    needed: 'a place with room in which this program may write; nothing half was left there',
    remedy: 'free some space, name another place, or correct the permissions',
    where: { file: path }
  })
}
