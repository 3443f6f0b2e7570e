import { writeFile } from 'node:fs/promises'
import { dirname } from 'node:path'
import type { Result } from '@trueloop/ground/refusal'
import { makeFolder } from '@trueloop/host/folder'
import { unwritable } from '../terminal/unreadable.ts'

/** Writes a whole file, its folder too, and says where. Refuses: cli/unwritable-file. */
export async function save(path: string, content: string | Uint8Array): Promise<Result<string>> {
  try {
    await makeFolder(dirname(path))
    await writeFile(path, content)
    return path
  } catch (error) {
    return unwritable(path, error)
  }
}
