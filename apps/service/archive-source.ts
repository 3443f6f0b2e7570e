import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { type Archive, openArchive } from '@trueloop/host/archive'
import { briefsOf, overviewOf, reportHtml } from '@trueloop/host/chain'
import type { RecordSource } from './source.ts'

/**
 * Reads an archive for each request and lets go of it at once, so that commands can work on it while pages are open.
 * Requests wait for one another.
 */
export function archiveSource(folder: string): RecordSource {
  let before: Promise<unknown> = Promise.resolve()
  const inTurn = <T>(work: (archive: Archive) => Promise<Result<T>>): Promise<Result<T>> => {
    const mine = before.then(() => withArchive(folder, work))
    before = mine.catch(() => undefined)
    return mine
  }
  return {
    jobs: () => inTurn(briefsOf),
    job: (id) => inTurn((archive) => overviewOf(archive, id)),
    report: (id) => inTurn((archive) => reportHtml(archive, id))
  }
}

async function withArchive<T>(folder: string, work: (archive: Archive) => Promise<Result<T>>): Promise<Result<T>> {
  const archive = await openArchive(folder)
  if (isRefusal(archive)) return archive
  try {
    return await work(archive)
  } finally {
    await archive.close()
  }
}
