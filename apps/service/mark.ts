import { stat } from 'node:fs/promises'
import { join } from 'node:path'

/** What changes when anybody writes into the archive: size and time of its files. */
export async function markOf(folder: string): Promise<string> {
  const files = ['archive.db', 'archive.db-wal'].map((name) =>
    stat(join(folder, name)).then(
      ({ size, mtimeMs }) => `${size}@${mtimeMs}`,
      () => 'none'
    )
  )
  return (await Promise.all(files)).join(' ')
}
