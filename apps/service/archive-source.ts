import type { Result } from '@trueloop/ground/refusal'
import type { Archive } from '@trueloop/host/archive'
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
import { HeldArchive } from './held-archive.ts'
import type { RecordSource } from './source.ts'

/** Reads an archive that is let go a moment after the last request, so that commands can work on it while pages are open. */
export function archiveSource(archive: string | HeldArchive): RecordSource {
  const held = typeof archive === 'string' ? new HeldArchive(archive) : archive
  /** The shop's own record lies beside the jobs, and is none. */
  const ofJob = async <T>(
    job: string,
    work: (archive: Archive) => Promise<Result<T>>
  ): Promise<Result<T | undefined>> => (job === shopChain ? undefined : held.use(work))
  return {
    jobs: () => held.use(briefsOf),
    job: (id) => ofJob(id, (archive) => overviewOf(archive, id)),
    place: (id, place) => ofJob(id, (archive) => placeIn(archive, id, place)),
    examination: (id, hash) => ofJob(id, (archive) => examinationIn(archive, id, hash)),
    wall: (id, hash) => ofJob(id, (archive) => wallIn(archive, id, hash)),
    preview: (id, hash) => ofJob(id, (archive) => previewIn(archive, id, hash)),
    document: (id, hash) => ofJob(id, (archive) => documentIn(archive, id, hash)),
    recording: (id, hash) => ofJob(id, (archive) => originalIn(archive, id, hash)),
    report: (id) => ofJob(id, (archive) => reportHtml(archive, id)),
    close: () => held.close()
  }
}
