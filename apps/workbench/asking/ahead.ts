import type { QueryClient } from '@tanstack/react-query'
import type { JobSummary, PlaceKey } from './client.ts'
import { examinationQuery, jobQuery, placeQuery, standardizationQuery, wallQuery } from './queries.ts'

/**
 * Asks for all that the page of a place shows, side by side, before it is opened: when a pointer nears its link, when the
 * page before it is looked at, and at the latest when it is opened. What can't be had is told where it is shown.
 */
export function askAhead(queries: QueryClient, job: string, key: PlaceKey): void {
  const summary = queries.getQueryData<JobSummary>(jobQuery(job).queryKey)
  const latest = summary?.places.find(({ of, name }) => of === key.of && name === key.name)?.latest
  void queries.prefetchQuery(placeQuery(job, key))
  if (latest === undefined) return
  if (key.of === 'hole') void queries.prefetchQuery(wallQuery(job, latest))
  void askExamination(queries, job, latest)
}

async function askExamination(queries: QueryClient, job: string, hash: string): Promise<void> {
  const examination = await queries.ensureQueryData(examinationQuery(job, hash)).catch(() => undefined)
  const { standardization = 'none' } = examination?.document ?? {}
  if (standardization !== 'none') await queries.prefetchQuery(standardizationQuery(job, standardization))
}
