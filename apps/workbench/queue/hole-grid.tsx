import { Link } from '@tanstack/react-router'
import { useVirtualizer } from '@tanstack/react-virtual'
import { useRef } from 'react'
import type { PlaceRow } from '../asking/client.ts'
import { StateMark } from '../shell/marks.tsx'
import { useWidth } from '../shell/use-width.ts'

const cell = { width: 76, height: 68 }

interface HoleGridProps {
  readonly job: string
  readonly places: readonly PlaceRow[]
  /** those that the queue shows; the others are drawn back */
  readonly shown: ReadonlySet<string>
}

/** All places as marks in a grid, in the order of the list. */
export function HoleGrid({ job, places, shown }: HoleGridProps) {
  const frame = useRef<HTMLDivElement>(null)
  const width = useWidth(frame)
  const columns = Math.max(1, Math.floor(width / cell.width))
  const rows = useVirtualizer({
    count: Math.ceil(places.length / columns),
    getScrollElement: () => frame.current,
    estimateSize: () => cell.height,
    overscan: 3
  })
  return (
    <div ref={frame} className="rows" tabIndex={-1}>
      <div style={{ height: rows.getTotalSize(), position: 'relative' }}>
        {rows.getVirtualItems().map(({ index, start, key }) => (
          <div key={key} className="map-row" style={{ transform: `translateY(${start}px)` }}>
            {places.slice(index * columns, (index + 1) * columns).map((place) => (
              <Cell key={place.of + place.name} job={job} place={place} back={!shown.has(place.name)} />
            ))}
          </div>
        ))}
      </div>
    </div>
  )
}

interface CellProps {
  readonly job: string
  readonly place: PlaceRow
  readonly back: boolean
}

function Cell({ job, place, back }: CellProps) {
  const { of, name } = place
  return (
    <Link
      to="/jobs/$job/$of/$name"
      params={{ job, of, name }}
      className={back ? 'map-cell back' : 'map-cell'}
      aria-label={`${name}, ${place.state}`}
    >
      <StateMark place={place} side={30} />
      <span>{name}</span>
    </Link>
  )
}
