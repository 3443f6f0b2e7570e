import { Link } from '@tanstack/react-router'
import { useVirtualizer } from '@tanstack/react-virtual'
import { useRef } from 'react'
import type { PlaceRow } from '../asking/client.ts'
import { StateMark } from '../shell/marks.tsx'

const rowHeight = 60

interface QueueProps {
  readonly job: string
  readonly places: readonly PlaceRow[]
  readonly all: number
}

/** The places in their order. Only the rows in sight are in the page, however long the job is. */
export function Queue({ job, places, all }: QueueProps) {
  const frame = useRef<HTMLDivElement>(null)
  const rows = useVirtualizer({
    count: places.length,
    getScrollElement: () => frame.current,
    estimateSize: () => rowHeight,
    overscan: 6
  })
  return (
    <section className="queue" aria-label="places">
      <h2>{places.length === all ? `${all} places` : `${places.length} of ${all} places`}</h2>
      <div ref={frame} className="rows" tabIndex={-1}>
        <ul style={{ height: rows.getTotalSize() }}>
          {rows.getVirtualItems().map(({ index, start, key }) => (
            <li key={key} style={{ transform: `translateY(${start}px)`, height: rowHeight }}>
              <QueueRow job={job} place={places[index]!} />
            </li>
          ))}
        </ul>
        {places.length === 0 ? <p className="quiet none">No place is like this.</p> : null}
      </div>
    </section>
  )
}

function QueueRow({ job, place }: { readonly job: string; readonly place: PlaceRow }) {
  const { of, name } = place
  return (
    <Link to="/jobs/$job/$of/$name" params={{ job, of, name }} className="row">
      <StateMark place={place} />
      <span className="name">{name}</span>
      <span className="state">{place.state}</span>
      <span className="fact">{factOf(place)}</span>
    </Link>
  )
}

/** The one thing to know of a place beside its state. */
function factOf({ why, open, zones, zonesExamined, provisional }: PlaceRow): string {
  const [reason] = [...why, ...open]
  if (reason !== undefined) return reason
  const counted = zones === 0 ? 'not scanned' : `zones ${zonesExamined} of ${zones}`
  return provisional ? `${counted}, until a good recheck` : counted
}
