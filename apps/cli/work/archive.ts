import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { type Archive, openArchive } from '@trueloop/host/archive'
import { archiveFolder, dataFolder } from '../home.ts'

/** Opens the archive of a data folder for one piece of work, and closes it whatever comes. */
export async function withArchive<T>(
  work: (archive: Archive) => Promise<Result<T>>,
  home: string = dataFolder()
): Promise<Result<T>> {
  const archive = await openArchive(archiveFolder(home))
  if (isRefusal(archive)) return archive
  try {
    return await work(archive)
  } finally {
    await archive.close()
  }
}
