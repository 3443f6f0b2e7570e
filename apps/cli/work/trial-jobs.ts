import { isRefusal, type Refusal, type Result, refuser } from '@trueloop/ground/refusal'
import { type ExaminedResults, type RunningTrial, resultsOfJob } from '@trueloop/job/prove'
import { replay } from '@trueloop/job/record'
import { InvalidArgumentError } from 'commander'
import { codes } from '../codes.ts'
import { withArchive } from './archive.ts'

const refuse = refuser(codes)

/** A job whose record has the results of one inspector. */
export interface JobOf {
  readonly job: string
  readonly inspector: string
}

/** Reads number=inspector, beside those before it. */
export function jobOption(text: string, before: readonly JobOf[] = []): readonly JobOf[] {
  const at = text.indexOf('=')
  if (at < 1 || at === text.length - 1) throw new InvalidArgumentError('needed: number=inspector')
  return [...before, { job: text.slice(0, at), inspector: text.slice(at + 1) }]
}

/** Results from the records of jobs. Refuses cli/no-such-job, and as `resultsOfJob`. */
export async function examinedIn(
  jobs: readonly JobOf[],
  running: RunningTrial
): Promise<{ readonly all: readonly ExaminedResults[] } | { readonly refusals: readonly Refusal[] }> {
  if (jobs.length === 0) return { all: [] }
  const all: ExaminedResults[] = []
  const done = await withArchive(async (archive): Promise<Result<true>> => {
    for (const { job, inspector } of jobs) {
      const rows = await archive.entries(job)
      if (isRefusal(rows)) return rows
      if (rows.length === 0) return noJob(job)
      const found = resultsOfJob(replay(rows), { running, inspector })
      if (isRefusal(found)) return found
      all.push(found)
    }
    return true
  })
  return isRefusal(done) ? { refusals: [done] } : { all }
}

const noJob = (job: string): Refusal =>
  refuse('cli/no-such-job', {
    found: `no job ${job}`,
    needed: 'a job whose places bear the names of the trial',
    remedy: 'correct the number; `trueloop record` lists the jobs'
  })
