import { useQuery } from '@tanstack/react-query'
import { Link } from '@tanstack/react-router'
import type { JobBrief } from '../asking/client.ts'
import { jobsQuery } from '../asking/queries.ts'
import { StateMark } from '../shell/marks.tsx'
import { Trouble } from '../shell/refusals.tsx'
import { useTitle } from '../shell/use-title.ts'

/** All jobs of the archive, those that wait for a person first. */
export function JobsPage() {
  useTitle('Jobs')
  const { data, error } = useQuery(jobsQuery)
  return (
    <div className="page">
      <h1>Jobs</h1>
      {error === null ? null : <Trouble error={error} />}
      {data === undefined ? null : <JobList jobs={data} />}
    </div>
  )
}

function JobList({ jobs }: { readonly jobs: readonly JobBrief[] }) {
  if (jobs.length === 0)
    return (
      <p>
        No job is open in this archive yet. Open one from its job sheet at the command line: trueloop plan JOB-SHEET.
      </p>
    )
  const waiting = jobs.filter((job) => job.waiting)
  const rest = jobs.filter((job) => !job.waiting)
  return (
    <ul className="jobs">
      {[...waiting, ...rest].map((job) => (
        <JobItem key={job.job} job={job} />
      ))}
    </ul>
  )
}

function JobItem({ job }: { readonly job: JobBrief }) {
  return (
    <li>
      <Link to="/jobs/$job" params={{ job: job.job }} className="card">
        <span className="name">{job.job}</span>
        <span className="what">{job.component}</span>
        {job.demonstration ? (
          <span className="demonstration">demonstration: invented data, never to be signed off</span>
        ) : null}
        <Counts counts={job.counts} />
        <span className="quiet">{job.waiting ? 'waits for a person' : 'nothing waits'}</span>
      </Link>
    </li>
  )
}

/** How many places are in which state. */
export function Counts({ counts }: Pick<JobBrief, 'counts'>) {
  return (
    <span className="counts">
      {counts
        .filter(({ count }) => count > 0)
        .map(({ state, count }) => (
          <span key={state} className="count">
            <StateMark place={{ state }} side={22} />
            <b>{count}</b> {state}
          </span>
        ))}
    </span>
  )
}
