import { access } from 'node:fs/promises'

/** Whether anything lies at a path. */
export async function isThere(path: string): Promise<boolean> {
  try {
    await access(path)
    return true
  } catch {
    return false
  }
}
