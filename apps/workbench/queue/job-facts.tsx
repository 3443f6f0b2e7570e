import { Link } from '@tanstack/react-router'
import type { JobSummary } from '../asking/client.ts'
import { PaceOfDay } from './pace.tsx'

/** What of the job as a whole has to be known before any of its places. What was not examined comes first. */
export function JobFacts({ job }: { readonly job: JobSummary }) {
  return (
    <section className="facts">
      <div className="headline">
        <h1>{job.job}</h1>
        <p className="what">{job.component}</p>
        <p className="quiet">{job.confirmed}</p>
        <Link className="action quietly" to="/jobs/$job/scan" params={{ job: job.job }}>
          Scan
        </Link>
        <a className="action quietly" href={`/jobs/${encodeURIComponent(job.job)}/report`}>
          Report
        </a>
      </div>
      {job.demonstration ? (
        <p className="demonstration">Demonstration: invented data, never to be signed off.</p>
      ) : null}
      {job.practice === undefined || job.practice.marked ? null : (
        <p className="failed">
          {`Practice: ${job.practice.count} of these places are practice and not marked yet. Nothing here may be acted on before they are.`}
        </p>
      )}
      {job.setUpUnknown.length === 0 ? null : (
        <p className="failed">{`Set-up not known: ${job.setUpUnknown.join(', ')}; sizes and proposals are withheld.`}</p>
      )}
      <PaceOfDay job={job.job} />
      <Told heading="Nonconformances" lines={job.nonconformances.map(nonconformance)} />
      <Told
        heading="To be done again"
        lines={job.redo.map(({ place, files, why }) => `${place} (${files.join(', ')}): ${why.join('; ')}`)}
      />
      <Told
        heading="Rechecks"
        lines={[
          ...job.rechecks.filter(({ passed }) => !passed).map(failed),
          ...job.unjudged.map((file) => `${file}: nobody has judged it`)
        ]}
      />
      <Told
        heading="Not scanned"
        lines={
          job.counted.without.length === 0
            ? []
            : [
                `${job.counted.scanned} of ${job.counted.listed} on the list; no scan of ${job.counted.without.slice(0, 12).join(', ')}${job.counted.without.length > 12 ? ', …' : ''}`
              ]
        }
      />
    </section>
  )
}

const nonconformance = ({ place, had, at, why, examinedAgain }: JobSummary['nonconformances'][number]): string =>
  `${place} had ${had} (${at}), and is voided since: ${why.join('; ')}; ${examinedAgain ? 'examined again' : 'not examined again'}`

const failed = ({ file, voids }: JobSummary['rechecks'][number]): string =>
  `${file}: failed${voids.length === 0 ? '' : `; it voids ${voids.join(', ')}`}`

function Told({ heading, lines }: { readonly heading: string; readonly lines: readonly string[] }) {
  if (lines.length === 0) return null
  return (
    <div className="told">
      <h2>{heading}</h2>
      <ul>
        {lines.map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ul>
    </div>
  )
}
