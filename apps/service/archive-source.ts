import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { type Archive, openArchive } from '@trueloop/host/archive'
import {
  briefsOf,
  documentIn,
  examinationIn,
  originalIn,
  overviewOf,
  placeIn,
  previewIn,
  reportHtml,
  wallIn
} from '@trueloop/host/chain'
import { shopChain } from '@trueloop/job/plan'
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
  /** The shop's own record lies beside the jobs, and is none. */
  const ofJob = async <T>(
    job: string,
    work: (archive: Archive) => Promise<Result<T>>
  ): Promise<Result<T | undefined>> => (job === shopChain ? undefined : inTurn(work))
  return {
    jobs: () => inTurn(briefsOf),
    job: (id) => ofJob(id, (archive) => overviewOf(archive, id)),
    place: (id, place) => ofJob(id, (archive) => placeIn(archive, id, place)),
    examination: (id, hash) => ofJob(id, (archive) => examinationIn(archive, id, hash)),
    wall: (id, hash) => ofJob(id, (archive) => wallIn(archive, id, hash)),
    preview: (id, hash) => ofJob(id, (archive) => previewIn(archive, id, hash)),
    document: (id, hash) => ofJob(id, (archive) => documentIn(archive, id, hash)),
    recording: (id, hash) => ofJob(id, (archive) => originalIn(archive, id, hash)),
    report: (id) => ofJob(id, (archive) => reportHtml(archive, id))
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
