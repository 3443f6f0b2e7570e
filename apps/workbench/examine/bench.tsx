import { useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import { examinationQuery, standardizationQuery, wallQuery } from '../asking/queries.ts'
import { Trouble } from '../shell/refusals.tsx'
import { Headline } from './headline.tsx'
import type { BenchProps, ScanProps } from './scan-props.ts'
import { TrackViews } from './track-views.tsx'
import { Views } from './views.tsx'

/** A place with all that is known of it; one of its scans is looked at. */
export function Bench({ job, place }: BenchProps) {
  const [scan, setScan] = useState(place.latest ?? place.examinations.at(-1)?.examination)
  return (
    <div className="bench">
      <Headline job={job} place={place} />
      {scan === undefined ? (
        <NeverScanned place={place} />
      ) : (
        <Scan key={scan} job={job} place={place} scan={scan} setScan={setScan} />
      )}
    </div>
  )
}

function NeverScanned({ place }: Pick<BenchProps, 'place'>) {
  const why = [...place.why, ...place.missing.flatMap(({ zone, why }) => why.map((one) => `${zone}: ${one}`))]
  return (
    <section className="page">
      <h2>Not examined</h2>
      <p>No scan of this place stands in the record.</p>
      <ul>
        {why.map((one) => (
          <li key={one}>{one}</li>
        ))}
      </ul>
    </section>
  )
}

function Scan({ job, place, scan, setScan }: ScanProps) {
  const isHole = place.of === 'hole'
  const examination = useQuery(examinationQuery(job.job, scan))
  const wall = useQuery({ ...wallQuery(job.job, scan), enabled: isHole })
  const hash = examination.data?.document.standardization ?? 'none'
  const standardization = useQuery({ ...standardizationQuery(job.job, hash), enabled: hash !== 'none' })
  const error = examination.error ?? wall.error
  if (error !== null) return <Trouble error={error} />
  const document = examination.data?.document
  if (document === undefined || (isHole && wall.data === undefined)) return <div className="views" />
  if (wall.data === undefined)
    return <TrackViews {...{ job, place, document, scan, setScan }} standardization={standardization.data} />
  return <Views {...{ job, place, document, scan, setScan }} wall={wall.data} standardization={standardization.data} />
}
