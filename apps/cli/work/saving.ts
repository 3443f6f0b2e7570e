import { mkdir, writeFile } from 'node:fs/promises'
import { dirname } from 'node:path'
import type { Result } from '@trueloop/ground/refusal'
import { unwritable } from '../terminal/unreadable.ts'

/** Writes a whole file, its folder too, and says where. Refuses: cli/unwritable-file. */
export async function save(path: string, content: string | Uint8Array): Promise<Result<string>> {
  try {
    await mkdir(dirname(path), { recursive: true })
    await writeFile(path, content)
    return path
  } catch (error) {
    return unwritable(path, error)
  }
}
