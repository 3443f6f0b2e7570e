import { readFile, rm, stat, writeFile } from 'node:fs/promises'
import { join } from 'node:path'

/**
 * The database file as it was when it was closed. One that nothing has touched since need not be looked through page by
 * page at every opening, which takes as long as the file is large; `verify` looks at all of it in any case. A program
 * that was killed has left no such note, and a copied or changed file has another time.
 */
interface Closed {
  readonly bytes: number
  readonly changed_ms: number
}

const noteIn = (folder: string): string => join(folder, 'archive.closed')

async function stateOf(folder: string): Promise<Closed | undefined> {
  try {
    const { size, mtimeMs } = await stat(join(folder, 'archive.db'))
    return { bytes: size, changed_ms: Math.floor(mtimeMs) }
  } catch {
    return undefined
  }
}

export async function isUntouched(folder: string): Promise<boolean> {
  try {
    const { bytes, changed_ms } = JSON.parse(await readFile(noteIn(folder), 'utf8')) as Partial<Closed>
    const now = await stateOf(folder)
    return now !== undefined && now.bytes === bytes && now.changed_ms === changed_ms
  } catch {
    return false
  }
}

/** While a program has the archive open there is no note: where it is killed, the next opening looks at every page. */
export const forgetClosing = (folder: string): Promise<void> => rm(noteIn(folder), { force: true })

export async function noteClosing(folder: string): Promise<void> {
  try {
    await writeFile(noteIn(folder), `${JSON.stringify(await stateOf(folder))}\n`)
  } catch {
    // without it the next opening looks at every page
  }
}
