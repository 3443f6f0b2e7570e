import { useId } from 'react'
import type { JobSummary, PlaceDetail } from '../asking/client.ts'

interface CompareProps {
  readonly job: JobSummary
  readonly place: PlaceDetail
  readonly chosen: string | undefined
  choose(name: string | undefined): void
}

/** Another hole whose signal at the same place is drawn dashed. The notch's own loop is always there. */
export function CompareWith({ job, place, chosen, choose }: CompareProps) {
  const id = useId()
  const others = job.places.filter(({ of, name, zones }) => of === 'hole' && name !== place.name && zones > 0)
  return (
    <span className="compare">
      <label htmlFor={id}>compare with</label>
      <select
        id={id}
        value={chosen ?? ''}
        onChange={({ target }) => choose(target.value === '' ? undefined : target.value)}
      >
        <option value="">the notch alone</option>
        {others.map(({ name }) => (
          <option key={name} value={name}>
            {`hole ${name}`}
          </option>
        ))}
      </select>
    </span>
  )
}
