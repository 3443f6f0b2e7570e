import { useId, useMemo, useState } from 'react'
import type { JobSummary, PlaceRow } from '../asking/client.ts'
import { HoleGrid } from '../queue/hole-grid.tsx'
import { BringDrawing } from './bring-drawing.tsx'
import { DrawnMap } from './drawn-map.tsx'

interface MapProps {
  readonly job: JobSummary
  /** those that the queue shows; the others are drawn back */
  readonly wanted: readonly PlaceRow[]
}

/** All places of a job with their states: on a drawing or photo of the component, or in the order of the list. */
export function PlacesMap({ job, wanted }: MapProps) {
  const [chosen, choose] = useState<string>()
  const on = job.drawings.find(({ sha256 }) => sha256 === chosen) ?? firstWithPlaces(job, chosen)
  const id = useId()
  const shown = useMemo(() => new Set(wanted.map(({ name }) => name)), [wanted])
  const head = (
    <>
      <h2>
        <label htmlFor={id}>Map</label>
      </h2>
      <select id={id} value={on?.sha256 ?? grid} onChange={({ target }) => choose(target.value)}>
        <option value={grid}>in the order of the list</option>
        {job.drawings.map(({ sha256, title, file }) => (
          <option key={sha256} value={sha256}>
            {title ?? file}
          </option>
        ))}
      </select>
      <BringDrawing job={job.job} brought={choose} />
    </>
  )
  return (
    <section className="hole-map" aria-label="map of the places">
      {on === undefined ? (
        <>
          <div className="map-head">{head}</div>
          <HoleGrid job={job.job} places={job.places} shown={shown} />
        </>
      ) : (
        <DrawnMap key={on.sha256} job={job} drawing={on} shown={shown} head={head} />
      )}
    </section>
  )
}

const grid = 'in the order of the list'

/** Where nobody has chosen: the first drawing that has places on it. */
const firstWithPlaces = ({ drawings }: JobSummary, chosen: string | undefined) =>
  chosen === undefined ? drawings.find(({ places }) => places.length > 0) : undefined
