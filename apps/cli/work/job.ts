import { isRefusal, type Refusal, refuser } from '@trueloop/ground/refusal'
import type { Archive } from '@trueloop/host/archive'
import { codes } from '../codes.ts'

const refuse = refuser(codes)

/** A job that the archive doesn't have. */
export async function noSuchJob(archive: Archive, job: string): Promise<Refusal> {
  const all = await archive.jobs()
  if (isRefusal(all)) return all
  const names = all.map(({ id }) => id)
  return refuse('cli/no-such-job', {
    found: `"${job}"`,
    needed: names.length === 0 ? 'a job in this archive; it has none' : `one of ${names.slice(0, 12).join(', ')}`,
    remedy: 'correct the number of the job, or open it: plan JOB-SHEET; TRUELOOP_HOME names the data folder',
    where: { file: archive.folder }
  })
}
