import { useQuery, useQueryClient } from '@tanstack/react-query'
import { useParams } from '@tanstack/react-router'
import { useEffect } from 'react'
import { askAhead } from '../asking/ahead.ts'
import type { JobSummary, PlaceKey } from '../asking/client.ts'
import { prune } from '../asking/prune.ts'
import { jobQuery, placeQuery } from '../asking/queries.ts'
import { useJobEvents } from '../asking/use-job-events.ts'
import { nextOpen } from '../queue/wanted.ts'
import { Trouble } from '../shell/refusals.tsx'
import { useTitle } from '../shell/use-title.ts'
import { Bench } from './bench.tsx'

/** One place: what was seen of it, why it was called so, and what a person decides. */
export function ExaminePage() {
  const { job, of, name } = useParams({ from: '/jobs/$job/$of/$name' })
  useTitle(`${of} ${name} · ${job}`)
  useJobEvents(job)
  const key = { of, name } as PlaceKey
  const jobs = useQuery(jobQuery(job))
  const place = useQuery(placeQuery(job, key))
  useAhead(job, jobs.data, name)
  const error = place.error ?? jobs.error
  if (place.data === undefined || jobs.data === undefined)
    return <div className="page">{error === null ? null : <Trouble error={error} />}</div>
  return <Bench key={`${job}/${of}/${name}`} job={jobs.data} place={place.data} />
}

/** What a person will want next is asked for while they look at this place. */
function useAhead(job: string, summary: JobSummary | undefined, name: string): void {
  const queries = useQueryClient()
  useEffect(() => {
    if (summary === undefined) return
    const { places } = summary
    const at = places.findIndex((place) => place.name === name)
    const next = [places[at + 1], nextOpen(places, name), places[at - 1]].filter((one) => one !== undefined)
    const timer = setTimeout(() => {
      prune(queries)
      for (const one of next) askAhead(queries, job, one)
    }, 150)
    return () => clearTimeout(timer)
  }, [queries, job, summary, name])
}
