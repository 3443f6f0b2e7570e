import { type QueryClient, queryOptions } from '@tanstack/react-query'
import type { Standardization } from '@trueloop/job/standardize'
import { parseWall } from '../wall/wall.ts'
import { bytesAt, type PlaceKey, read } from './client.ts'

/** What the pages read. Named by its content, an answer never changes; the rest is asked for again when the record grows. */

const forGood = { staleTime: Number.POSITIVE_INFINITY, gcTime: 60_000 }

export const jobsQuery = queryOptions({ queryKey: ['jobs'], queryFn: () => read('/api/jobs', {}) })

export const jobQuery = (job: string) =>
  queryOptions({
    queryKey: ['job', job],
    queryFn: () => read('/api/jobs/{job}', { job })
  })

export const placeQuery = (job: string, { of, name }: PlaceKey) =>
  queryOptions({
    queryKey: ['job', job, 'place', of, name],
    queryFn: () => read('/api/jobs/{job}/places/{of}/{name}', { job, of, name })
  })

/**
 * What is told depends on who asks where a technique wants a person's class first: asked for again when somebody else
 * asks, or when they have stated one.
 */
export const toldAnew = (queries: QueryClient, job?: string): Promise<void> =>
  queries.invalidateQueries({ queryKey: ['examination', ...(job === undefined ? [] : [job])] })

export const examinationQuery = (job: string, hash: string) =>
  queryOptions({
    queryKey: ['examination', job, hash],
    queryFn: () => read('/api/jobs/{job}/examinations/{hash}', { job, hash }),
    ...forGood
  })

const addressOf = (job: string, ...rest: readonly string[]): string =>
  ['/api/jobs', ...[job, ...rest].map(encodeURIComponent)].join('/')

export const wallQuery = (job: string, hash: string) =>
  queryOptions({
    queryKey: ['wall', job, hash],
    queryFn: async ({ signal }) => parseWall(await bytesAt(addressOf(job, 'examinations', hash, 'wall'), signal)),
    ...forGood
  })

export const standardizationQuery = (job: string, hash: string) =>
  queryOptions({
    queryKey: ['document', job, hash],
    queryFn: async ({ signal }) =>
      JSON.parse(new TextDecoder().decode(await bytesAt(addressOf(job, 'documents', hash), signal))) as Standardization,
    ...forGood
  })
