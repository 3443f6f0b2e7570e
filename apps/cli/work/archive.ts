import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { type Archive, openPatiently } from '@trueloop/host/archive'
import { archiveFolder, dataFolder } from '../home.ts'

/**
 * Opens the archive of a data folder for one piece of work, and closes it whatever comes. A service that reads there lets
 * it in within a moment.
 */
export async function withArchive<T>(
  work: (archive: Archive) => Promise<Result<T>>,
  home: string = dataFolder()
): Promise<Result<T>> {
  const archive = await openPatiently(archiveFolder(home))
  if (isRefusal(archive)) return archive
  try {
    return await work(archive)
  } finally {
    await archive.close()
  }
}
