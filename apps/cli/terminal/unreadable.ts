import { type Refusal, refuser } from '@trueloop/ground/refusal'
import { codes } from '../codes.ts'

const refuse = refuser(codes)

/** A file that the system does not give us. */
export const unreadable = (file: string, error: unknown): Refusal => {
  const { code, message } = error as NodeJS.ErrnoException
  return refuse('cli/unreadable-file', {
    found: code === 'ENOENT' ? 'no such file' : (message ?? String(error)),
    needed: 'a file that can be read',
    remedy: 'correct the path or its permissions',
    where: { file }
  })
}

/** A file that can't be written. */
export const unwritable = (file: string, error: unknown): Refusal =>
  refuse('cli/unwritable-file', {
    found: (error as Error).message,
    needed: 'a file that can be written',
    remedy: 'name another file, or correct the permissions of the folder',
    where: { file }
  })
