import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { type EntryOf, type EntryRow, type Fault, replay, type Verification } from '@trueloop/job/record'
import type { Archive } from '../archive/index.ts'
import { replayed } from '../memory/index.ts'
import { type JobSummary, summaryOf } from './summary.ts'

/**
 * How jobs stand, without replaying thousands of entries for every look: what `summaryOf` says is kept beside the entries
 * it was made of, and made anew where they have grown since or this number has.
 */
export const OVERVIEW_FORM = 4

/** What a list of jobs says of one. */
export type JobBrief = Omit<JobSummary, (typeof ofWholeJob)[number]>

const ofWholeJob = ['places', 'drawings', 'capability', 'rechecks', 'setUpUnknown', 'unjudged'] as const

function briefOf(summary: JobSummary): JobBrief {
  const brief: Partial<JobSummary> = { ...summary }
  for (const key of ofWholeJob) delete brief[key]
  return brief as JobBrief
}

/** How a job stands; undefined where the archive has no such job. */
export async function overviewOf(archive: Archive, job: string): Promise<Result<JobSummary | undefined>> {
  const known = await archive.overview(job, OVERVIEW_FORM)
  if (isRefusal(known)) return known
  return known === undefined ? made(archive, job) : (JSON.parse(known) as JobSummary)
}

async function made(archive: Archive, job: string): Promise<Result<JobSummary | undefined>> {
  const rows = await archive.entries(job)
  if (isRefusal(rows)) return rows
  if (rows.length === 0) return undefined
  const summary = summaryOf(replayed(rows))
  const end = { id: job, count: summary.entries, head: summary.head }
  const [brief, whole] = [briefOf(summary), summary].map((one) => JSON.stringify(one)) as [string, string]
  // one that can't be kept is made again the next time
  await archive.keepOverview(end, { form: OVERVIEW_FORM, brief, whole })
  return summary
}

/** How all jobs stand, in short. */
export async function briefsOf(archive: Archive): Promise<Result<readonly JobBrief[]>> {
  const all = await archive.briefs(OVERVIEW_FORM)
  if (isRefusal(all)) return all
  const briefs: JobBrief[] = []
  for (const { job, brief } of all) {
    const one = brief === undefined ? await made(archive, job) : (JSON.parse(brief) as JobBrief)
    if (isRefusal(one)) return one
    if (one !== undefined) briefs.push('places' in one ? briefOf(one as JobSummary) : one)
  }
  return briefs
}

/** What is kept has to be what the entries say; where it is not, it is dropped, and made anew when somebody asks. */
export async function withOverview(
  archive: Archive,
  rows: readonly EntryRow[],
  verification: Verification
): Promise<Result<Verification>> {
  const { intact } = verification
  const [first] = rows
  if (!intact.holds || first === undefined) return verification
  const { job } = JSON.parse(first.body) as EntryOf<'job-opened'>
  const faults = await overviewFaults(archive, job.id, rows)
  if (isRefusal(faults) || faults.length === 0) return isRefusal(faults) ? faults : verification
  return { ...verification, intact: { ...intact, holds: false, faults: [...intact.faults, ...faults] } }
}

type Faults = Result<readonly Fault[]>

async function overviewFaults(archive: Archive, job: string, rows: readonly EntryRow[]): Promise<Faults> {
  const whole = await archive.overview(job, OVERVIEW_FORM)
  if (isRefusal(whole) || whole === undefined) return isRefusal(whole) ? whole : []
  const all = await archive.briefs(OVERVIEW_FORM)
  if (isRefusal(all)) return all
  const summary = summaryOf(replay(rows))
  const brief = all.find((one) => one.job === job)?.brief
  if (whole === JSON.stringify(summary) && brief === JSON.stringify(briefOf(summary))) return []
  const dropped = await archive.dropOverview(job)
  if (isRefusal(dropped)) return dropped
  const needed = 'what the entries say; it is made anew from them when somebody asks'
  return [{ place: `overview of job ${job}`, found: 'another text, now removed', needed }]
}
