import { useId } from 'react'
import type { JobSummary } from '../asking/client.ts'
import { TakeBack } from '../decide/said.tsx'
import { useOutbox } from '../outbox/use-outbox.ts'
import { type Drafts, type Drawing, type DrawnPlace, nextToPlace } from './drawings.ts'

interface PuttingProps {
  readonly job: JobSummary
  readonly drawing: Drawing
  readonly drawn: readonly DrawnPlace[]
  readonly drafts: Drafts
  /** who states it; nobody puts places without having signed in */
  readonly by: string | undefined
  /** the place that is put next; undefined while nobody puts any */
  readonly name: string | undefined
  choose(name: string | undefined): void
  keep(drafts: Drafts): void
}

/** Puts places on a drawing: any number of them is one statement. */
export function Putting({ job, drawing, drawn, drafts, by, name, choose, keep }: PuttingProps) {
  const { take } = useOutbox()
  const id = useId()
  if (by === undefined) return null
  const begin = () => choose(nextToPlace(job.places, drawn, undefined) ?? job.places[0]?.name)
  if (name === undefined)
    return (
      <span className="putting">
        <button type="button" onClick={begin}>
          Put places
        </button>
        {drawing.by === by ? (
          <TakeBack
            entry={drawing.id}
            words="Take the drawing back"
            say={(said) => take({ job: job.job, by, seen: job.entries }, said)}
          />
        ) : null}
      </span>
    )
  const end = () => {
    keep(new Map())
    choose(undefined)
  }
  const record = () => {
    const marks = [...drafts].map(([place, at]) => ({ place, ...(at === undefined ? {} : { at }) }))
    take({ job: job.job, by, seen: job.entries }, { what: 'place on a drawing', drawing: drawing.sha256, marks })
    end()
  }
  const isThere = drawn.some((one) => one.name === name)
  return (
    <fieldset className="putting" aria-label="places on the drawing">
      <label className="field" htmlFor={id}>
        <span>where is</span>
        <select id={id} value={name} onChange={({ target }) => choose(target.value)}>
          {job.places.map((one) => (
            <option key={one.name} value={one.name}>
              {one.name}
            </option>
          ))}
        </select>
      </label>
      {isThere ? (
        <button type="button" onClick={() => keep(new Map(drafts).set(name, undefined))}>
          Take it off
        </button>
      ) : null}
      <button type="button" onClick={record} disabled={drafts.size === 0}>
        {`Record ${drafts.size} ${drafts.size === 1 ? 'place' : 'places'}`}
      </button>
      <button type="button" onClick={end}>
        {drafts.size === 0 ? 'Done' : 'Put aside'}
      </button>
    </fieldset>
  )
}
