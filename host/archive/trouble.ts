import type { Refusal } from '@trueloop/ground/refusal'
import { type Code, refuse } from './codes.ts'

/** What the operating system or the database threw, as a refusal. Anything unknown is a wrong program and thrown on. */
export function trouble(error: unknown, place: string): Refusal<Code> {
  const { code = '', message = '' } = error as { code?: string; message?: string }
  const name = String(code)
  if (full.includes(name)) return diskFull(place)
  if (name.startsWith('SQLITE_BUSY') || name.startsWith('SQLITE_LOCKED')) return locked(place, 'another program')
  if (name.startsWith('SQLITE_CORRUPT') || name.startsWith('SQLITE_NOTADB')) return damaged(place, message)
  if (closed.includes(name) || name.startsWith('SQLITE_IOERR') || name.startsWith('SQLITE_READONLY')) {
    return unreachable(place, message)
  }
  if (message.startsWith('ConnectionFailed') || name.startsWith('SQLITE_CANTOPEN')) return unreachable(place, message)
  throw error
}

const full = ['ENOSPC', 'EDQUOT', 'EFBIG', 'SQLITE_FULL']
const closed = ['EACCES', 'EPERM', 'EROFS', 'ENOTDIR', 'ENOENT', 'EEXIST', 'EISDIR', 'EIO', 'EMFILE', 'ENAMETOOLONG']

/** Runs a step; trouble of the outside world becomes a refusal. */
export async function guarded<T>(place: string, step: () => Promise<T>): Promise<T | Refusal<Code>> {
  try {
    return await step()
  } catch (error) {
    return trouble(error, place)
  }
}

export const diskFull = (place: string): Refusal<Code> =>
  refuse('archive/disk-full', {
    found: 'no room left to write',
    needed: 'room for the whole of what was to be kept; nothing half was left behind',
    remedy: 'free some space or move the archive to a larger disk, then run the command again',
    where: { file: place }
  })

export const locked = (place: string, holder: string): Refusal<Code> =>
  refuse('archive/locked', {
    found: `the archive in use by ${holder}`,
    needed: 'an archive that no other program has open',
    remedy: 'close the other program, then run the command again',
    where: { file: place }
  })

export const damaged = (place: string, found: string): Refusal<Code> =>
  refuse('archive/damaged', {
    found,
    needed: 'an archive as this program wrote it',
    remedy: 'keep the folder as it is, restore the last backup beside it, and let both be compared',
    where: { file: place }
  })

export const unreachable = (place: string, found: string): Refusal<Code> =>
  refuse('archive/unreachable', {
    found,
    needed: 'a folder in which this program may read and write',
    remedy: 'name another folder, or give this user the right to write there',
    where: { file: place }
  })
