import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { type Archive, openArchive } from '@trueloop/host/archive'
import { type JobSummary, reportHtml, summaryOf } from '@trueloop/host/chain'
import { replay } from '@trueloop/job/record'
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
    jobs: () => inTurn(allJobs),
    job: (id) => inTurn((archive) => summaryIn(archive, id)),
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

async function allJobs(archive: Archive): Promise<Result<readonly JobSummary[]>> {
  const ends = await archive.jobs()
  if (isRefusal(ends)) return ends
  const all: JobSummary[] = []
  for (const { id } of ends) {
    const summary = await summaryIn(archive, id)
    if (isRefusal(summary)) return summary
    if (summary !== undefined) all.push(summary)
  }
  return all
}

async function summaryIn(archive: Archive, job: string): Promise<Result<JobSummary | undefined>> {
  const rows = await archive.entries(job)
  if (isRefusal(rows)) return rows
  return rows.length === 0 ? undefined : summaryOf(replay(rows))
}
