import type { JobSummary, PlaceKey } from '../asking/client.ts'

interface PicturesProps {
  readonly job: JobSummary
  readonly place: PlaceKey
}

/** Photos and drawings on which this place lies, each to be opened by itself. */
export function PicturesOf({ job, place: { of, name } }: PicturesProps) {
  const own = job.drawings.filter(
    ({ form, places }) => form !== 'application/pdf' && places.some((one) => one.of === of && one.name === name)
  )
  if (own.length === 0) return null
  return (
    <ul className="pictures" aria-label="photos and drawings of this place">
      {own.map(({ sha256, title, file }) => (
        <li key={sha256}>
          <a href={`/api/jobs/${encodeURIComponent(job.job)}/drawings/${sha256}`} target="_blank" rel="noreferrer">
            <img
              src={`/api/jobs/${encodeURIComponent(job.job)}/drawings/${sha256}`}
              alt={title ?? file}
              loading="lazy"
              width="88"
              height="66"
            />
          </a>
        </li>
      ))}
    </ul>
  )
}
