import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { Archive } from '@trueloop/host/archive'
import {
  briefsOf,
  documentIn,
  drawingIn,
  examinationIn,
  type JobBrief,
  type JobSummary,
  originalIn,
  overviewOf,
  placeIn,
  previewIn,
  reportHtml,
  wallIn
} from '@trueloop/host/chain'
import { shopChain } from '@trueloop/job/plan'
import { Blind, classFirst } from './blind.ts'
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
  /** As far as this reader may be told. */
  const told = <T>(
    job: string,
    reader: string | undefined,
    { find, tell }: { find(archive: Archive): Promise<Result<T | undefined>>; tell(blind: Blind, found: T): Result<T> }
  ): Promise<Result<T | undefined>> =>
    ofJob(job, async (archive) => {
      const found = await find(archive)
      if (found === undefined || isRefusal(found)) return found
      const rows = await archive.entries(job)
      if (isRefusal(rows)) return rows
      const blind = Blind.of(rows, reader)
      return blind === undefined ? found : tell(blind, found as T)
    })
  return {
    jobs: (reader) => held.use((archive) => briefsFor(archive, reader)),
    job: (id, reader) =>
      told(id, reader, { find: (archive) => overviewOf(archive, id), tell: (blind, found) => blind.summary(found) }),
    place: (id, place, reader) =>
      told(id, reader, { find: (archive) => placeIn(archive, id, place), tell: (blind, found) => blind.place(found) }),
    examination: (id, hash, reader) =>
      told(id, reader, {
        find: (archive) => examinationIn(archive, id, hash),
        tell: (blind, found) => blind.examination(found)
      }),
    wall: (id, hash) => ofJob(id, (archive) => wallIn(archive, id, hash)),
    preview: (id, hash, reader) =>
      told(id, reader, {
        find: (archive) => previewIn(archive, id, hash),
        tell: (blind, found) => (blind.hiddenIn(hash).size === 0 ? found : classFirst('a recording to examine again'))
      }),
    document: (id, hash, reader) =>
      told(id, reader, {
        find: (archive) => documentIn(archive, id, hash),
        tell: (blind, found) => (blind.hiddenIn(hash).size === 0 ? found : classFirst('an examination'))
      }),
    recording: (id, hash) => ofJob(id, (archive) => originalIn(archive, id, hash)),
    drawing: (id, hash) => ofJob(id, (archive) => drawingIn(archive, id, hash)),
    // it is read by anybody, and tells everything: nobody's class may be missing
    report: (id) =>
      told(id, 'anybody', {
        find: (archive) => reportHtml(archive, id),
        tell: (blind, found) => (blind.isAnyHidden ? classFirst('a report') : found)
      }),
    close: () => held.close()
  }
}

async function briefsFor(archive: Archive, reader: string | undefined): Promise<Result<readonly JobBrief[]>> {
  const all = await briefsOf(archive)
  if (isRefusal(all)) return all
  const told: JobBrief[] = []
  for (const brief of all as readonly JobBrief[]) {
    const one = await briefFor(archive, brief, reader)
    if (isRefusal(one)) return one
    told.push(one as JobBrief)
  }
  return told
}

async function briefFor(archive: Archive, brief: JobBrief, reader: string | undefined): Promise<Result<JobBrief>> {
  if (brief.classFirst !== true) return brief
  const rows = await archive.entries(brief.job)
  if (isRefusal(rows)) return rows
  const whole = await overviewOf(archive, brief.job)
  const blind = Blind.of(rows, reader)
  if (isRefusal(whole) || whole === undefined || blind === undefined) return isRefusal(whole) ? whole : brief
  return { ...brief, counts: blind.summary(whole as JobSummary).counts }
}
