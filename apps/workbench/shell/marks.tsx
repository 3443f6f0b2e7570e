import type { ReactNode } from 'react'
import type { PlaceRow } from '../asking/client.ts'

/**
 * The mark of a state: a shape that is told apart without color. Not examined is dashed and hatched; what was examined has
 * a solid outline; a voided scan wears a dashed outline over its former mark.
 */
export function StateMark({ place, side = 28, named = false }: MarkProps) {
  return (
    // biome-ignore lint/a11y/noSvgWithoutTitle: hidden where the word stands beside it; named by its title elsewhere
    <svg className={`mark ${toneOf(place.state)}`} viewBox="0 0 48 48" width={side} height={side} aria-hidden={!named}>
      {named ? <title>{place.state}</title> : null}
      {shapeOf(place)}
    </svg>
  )
}

export type Marked = Pick<PlaceRow, 'state'> & Partial<Pick<PlaceRow, 'relevant' | 'undecided'>>

interface MarkProps {
  readonly place: Marked
  readonly side?: number
  /** says its state; else the word stands beside it */
  readonly named?: boolean
}

const solid = <circle cx="24" cy="24" r="18" className="line" />
const bar = <path d="M17 24h14" className="line" />
const half = <path d="M24 6a18 18 0 0 1 0 36z" className="fill" />
const triangle = <path d="M24 7 42 39H6z" className="fill" />
const filled = <circle cx="24" cy="24" r="18" className="fill" />

const hatched = (
  <>
    <path d="M12 31 31 12M11 24 24 11M17 37 37 17M24 37 37 24" className="hatch" />
    <circle cx="24" cy="24" r="18" className="line dashed" />
  </>
)

function shapeOf(place: Marked): ReactNode {
  switch (place.state) {
    case 'not examined':
      return hatched
    case 'voided by a recheck':
      return (
        <>
          <g transform="translate(7.2 7.2) scale(.7)">{formerOf(place)}</g>
          <circle cx="24" cy="24" r="22" className="line dashed" />
        </>
      )
    case 'relevant, not decided':
      return triangle
    case 'undecided':
      return [<g key="line">{solid}</g>, <g key="half">{half}</g>]
    case 'no recordable indication, decided':
      return (
        <>
          {solid}
          <path d="m15 25 7 7 12-16" className="line" />
        </>
      )
    case 'ream and re-inspect':
      return <path d="M33 8.4A18 18 0 1 0 41.5 20" className="line" />
    case 'reject':
      return (
        <>
          {filled}
          <path d="M12 36 36 12" className="line paper" />
        </>
      )
    case 'refer':
      return (
        <>
          {filled}
          <path d="M14 24h20m-8-8 8 8-8 8" className="line paper" />
        </>
      )
    default:
      return (
        <>
          {solid}
          {bar}
        </>
      )
  }
}

function formerOf({ relevant = 0, undecided = 0 }: Marked): ReactNode {
  if (relevant > 0) return triangle
  return (
    <>
      {solid}
      {undecided > 0 ? half : bar}
    </>
  )
}

/** Tone beside shape and word. */
export const toneOf = (state: PlaceRow['state']): string => {
  if (state === 'not examined' || state === 'voided by a recheck') return 'tone-amber'
  return state === 'relevant, not decided' || state === 'undecided' || state === 'reject' ? 'tone-red' : 'tone-ink'
}
