import { Link } from '@tanstack/react-router'
import type { JobSummary, PlaceDetail } from '../asking/client.ts'
import { PicturesOf } from './pictures-of.tsx'

interface ScansProps {
  readonly job: JobSummary
  readonly place: PlaceDetail
  readonly scan: string
  setScan(scan: string): void
}

/** The scans of this place, the one that is shown pressed. */
export function Scans({ job, place, scan, setScan }: ScansProps) {
  return (
    <section className="scans" aria-label="scans">
      <h2>Scans</h2>
      <ul>
        {place.examinations.map((one) => (
          <li key={one.examination}>
            <button
              type="button"
              className="chip"
              aria-pressed={one.examination === scan}
              onClick={() => setScan(one.examination)}
            >
              {one.file}
              {one.after === undefined ? '' : `, ${one.after}`}
            </button>
            <Link
              to="/jobs/$job/recording/$examination"
              params={{ job: place.job, examination: one.examination }}
              className="small"
            >
              recording over time
            </Link>
            <span className={one.standing.standing === 'voided' ? 'failed' : 'quiet'}>
              {standingText(one.standing)}
            </span>
          </li>
        ))}
      </ul>
      <PicturesOf job={job} place={place} />
    </section>
  )
}

function standingText(standing: PlaceDetail['examinations'][number]['standing']): string {
  if (standing.standing === 'certain') return 'closed by a good recheck'
  if (standing.standing === 'no set-up to check') return 'no set-up to check'
  return `${standing.standing}: ${standing.why}`
}
