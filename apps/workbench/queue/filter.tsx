import type { JobSummary, State } from '../asking/client.ts'
import { StateMark } from '../shell/marks.tsx'
import type { Wanted } from './wanted.ts'

interface FilterProps {
  readonly job: JobSummary
  readonly wanted: Wanted
  toggle(state: State): void
  want(some: Partial<Wanted>): void
}

/** Which places the queue shows: by state, by words, or those that wait. */
export function Filter({ job, wanted, toggle, want }: FilterProps) {
  return (
    <fieldset className="filter" aria-label="which places are shown">
      {job.counts
        .filter(({ count }) => count > 0)
        .map(({ state, count }) => (
          <button
            key={state}
            type="button"
            className="chip"
            aria-pressed={wanted.states.includes(state)}
            onClick={() => toggle(state)}
          >
            <StateMark place={{ state }} side={22} />
            <b>{count}</b> {state}
          </button>
        ))}
      <button
        type="button"
        className="chip"
        aria-pressed={wanted.waiting}
        onClick={() => want({ waiting: !wanted.waiting })}
      >
        waits for a person
      </button>
      <label className="find">
        <span>Find</span>
        <input type="search" value={wanted.text} onChange={({ target }) => want({ text: target.value })} />
      </label>
    </fieldset>
  )
}
