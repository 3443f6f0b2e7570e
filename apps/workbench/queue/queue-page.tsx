import { useQuery } from '@tanstack/react-query'
import { useParams } from '@tanstack/react-router'
import { useMemo, useState } from 'react'
import type { JobSummary, State } from '../asking/client.ts'
import { jobQuery } from '../asking/queries.ts'
import { useJobEvents } from '../asking/use-job-events.ts'
import { WaitingHere } from '../decide/waiting-here.tsx'
import { PlacesMap } from '../drawing/places-map.tsx'
import { Trouble } from '../shell/refusals.tsx'
import { useTitle } from '../shell/use-title.ts'
import { Filter } from './filter.tsx'
import { JobFacts } from './job-facts.tsx'
import { Queue } from './queue.tsx'
import { type Wanted, wantedPlaces } from './wanted.ts'

/** A job: its queue of places and their map, and what of the job as a whole a person has to know. */
export function QueuePage() {
  const { job } = useParams({ from: '/jobs/$job' })
  useTitle(job)
  useJobEvents(job)
  const { data, error } = useQuery(jobQuery(job))
  if (data === undefined) return <div className="page">{error === null ? null : <Trouble error={error} />}</div>
  return <QueueOf job={data} />
}

const everything: Wanted = { states: [], text: '', waiting: false }

function QueueOf({ job }: { readonly job: JobSummary }) {
  const [wanted, want] = useState(everything)
  const places = useMemo(() => wantedPlaces(job.places, wanted), [job.places, wanted])
  const toggle = (state: State) =>
    want(({ states, ...rest }) => ({
      ...rest,
      states: states.includes(state) ? states.filter((one) => one !== state) : [...states, state]
    }))
  return (
    <div className="queue-page">
      <JobFacts job={job} />
      <WaitingHere job={job.job} />
      <Filter job={job} wanted={wanted} toggle={toggle} want={(some) => want((before) => ({ ...before, ...some }))} />
      <div className="queue-and-map">
        <Queue job={job.job} places={places} all={job.places.length} />
        <PlacesMap job={job} wanted={places} />
      </div>
    </div>
  )
}
