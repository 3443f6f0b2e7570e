import { mkdir, stat } from 'node:fs/promises'
import { dirname, resolve } from 'node:path'

/**
 * Makes a folder and what is missing above it, one after the other; gives the highest that was made. Throws what the file
 * system throws. `mkdir` with `recursive` never comes back where a folder can be made nowhere, as below /proc.
 */
export async function makeFolder(path: string, mode?: number): Promise<string | undefined> {
  const missing: string[] = []
  let at = resolve(path)
  while (!(await isThere(at))) {
    missing.unshift(at)
    at = dirname(at)
  }
  for (const folder of missing) await makeOne(folder, mode)
  return missing[0]
}

async function isThere(path: string): Promise<boolean> {
  const found = await stat(path).catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return undefined
    throw error
  })
  // a file in the place of a folder: the system says it in its own words
  if (found !== undefined && !found.isDirectory()) await mkdir(path)
  return found !== undefined
}

/** Another program may make it in the same moment. */
async function makeOne(path: string, mode: number | undefined): Promise<void> {
  try {
    await mkdir(path, mode === undefined ? {} : { mode })
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EEXIST' || !(await stat(path)).isDirectory()) throw error
  }
}
