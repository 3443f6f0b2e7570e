import { Link } from '@tanstack/react-router'
import { type KeyboardEvent, memo, type PointerEvent, useCallback, useRef, useState } from 'react'
import { StateMark } from '../shell/marks.tsx'
import type { Drawing, Mark } from './drawings.ts'
import { Picture } from './picture.tsx'

/** Where on the picture, in shares of its width and height. */
export interface Spot {
  readonly x: number
  readonly y: number
}

interface MarkedProps {
  readonly job: string
  readonly drawing: Drawing
  readonly page: number
  readonly zoom: number
  readonly marks: readonly Mark[]
  /** those that the queue shows; the others are drawn back */
  readonly shown: ReadonlySet<string>
  pages(count: number): void
  /** while places are put on it: the one that is put, and where to */
  readonly putting?: { readonly name: string; put(spot: Spot): void; choose(name: string): void } | undefined
}

/** A picture that is larger than its frame is moved by scrolling; the marks lie on it by shares, and stay as large. */
export function MarkedPicture(props: MarkedProps) {
  const { job, drawing, page, zoom, marks, shown, pages, putting } = props
  const [ratio, setRatio] = useState(0.75)
  const sheet = useRef<HTMLDivElement>(null)
  const style = { width: `${100 * zoom}%`, aspectRatio: `1 / ${ratio}` }
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls has to be reached by the keyboard
    <section className="rows picture-frame" tabIndex={0} aria-label={drawing.title ?? drawing.file}>
      <div ref={sheet} className={putting === undefined ? 'picture' : 'picture putting'} style={style}>
        <Picture key={drawing.sha256} job={job} drawing={drawing} page={page} pages={pages} shape={setRatio} />
        {putting === undefined ? null : <Target sheet={sheet} name={putting.name} put={putting.put} />}
        {marks.map((mark) =>
          putting === undefined ? (
            <PlaceMark key={mark.name} job={job} mark={mark} back={!shown.has(mark.name)} />
          ) : (
            <PutMark key={mark.name} mark={mark} isOwn={mark.name === putting.name} choose={putting.choose} />
          )
        )}
      </div>
    </section>
  )
}

const spotStyle = ({ x, y }: Spot) => ({ left: `${100 * x}%`, top: `${100 * y}%` })

interface PlaceMarkProps {
  readonly job: string
  readonly mark: Mark
  readonly back: boolean
}

const PlaceMark = memo(function PlaceMark({ job, mark, back }: PlaceMarkProps) {
  const { of, name, row } = mark
  return (
    <Link
      to="/jobs/$job/$of/$name"
      params={{ job, of, name }}
      className={back ? 'spot back' : 'spot'}
      style={spotStyle(mark)}
      aria-label={`${name}, ${row.state}`}
    >
      <StateMark place={row} side={26} />
      <span>{name}</span>
    </Link>
  )
})

interface PutMarkProps {
  readonly mark: Mark
  readonly isOwn: boolean
  choose(name: string): void
}

const PutMark = memo(function PutMark({ mark, isOwn, choose }: PutMarkProps) {
  return (
    <button
      type="button"
      className={isOwn ? 'spot own' : 'spot'}
      style={spotStyle(mark)}
      aria-label={`move ${mark.name}`}
      onClick={() => choose(mark.name)}
    >
      <StateMark place={mark.row} side={26} />
      <span>{mark.name}</span>
    </button>
  )
})

interface TargetProps {
  readonly sheet: { readonly current: HTMLDivElement | null }
  readonly name: string
  put(spot: Spot): void
}

/** By how much one press of an arrow moves the cross, shares of the picture; a tenth with shift. */
const step = 0.02

const arrows: Readonly<Record<string, readonly [number, number]>> = {
  ...{ ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }
}

/** Takes the place where the person points; with keys a cross is moved and Enter puts it there. */
function Target({ sheet, name, put }: TargetProps) {
  const [cross, setCross] = useState<Spot>({ x: 0.5, y: 0.5 })
  const spotOf = useCallback(
    ({ clientX, clientY }: { readonly clientX: number; readonly clientY: number }): Spot => {
      const box = sheet.current?.getBoundingClientRect()
      if (box === undefined) return { x: 0, y: 0 }
      return { x: within((clientX - box.left) / box.width), y: within((clientY - box.top) / box.height) }
    },
    [sheet]
  )
  const onKeyDown = (event: KeyboardEvent) => {
    const way = arrows[event.key]
    if (way === undefined && event.key !== 'Enter' && event.key !== ' ') return
    event.preventDefault()
    if (way === undefined) return put(cross)
    const by = event.shiftKey ? step / 10 : step
    setCross(({ x, y }) => ({ x: within(x + by * way[0]), y: within(y + by * way[1]) }))
  }
  const onPointerMove = (event: PointerEvent) => event.pointerType === 'mouse' && setCross(spotOf(event))
  return (
    <button
      type="button"
      className="target"
      aria-label={`put ${name} here: ${Math.round(100 * cross.x)} % from the left, ${Math.round(100 * cross.y)} % from above`}
      onKeyDown={onKeyDown}
      onPointerMove={onPointerMove}
      onClick={(event) => {
        // a click that a key has made has no place of its own
        if (event.detail === 0) return
        put(spotOf(event))
      }}
    >
      <span className="cross" style={spotStyle(cross)} aria-hidden="true" />
    </button>
  )
}

const within = (share: number): number => Math.min(1, Math.max(0, Math.round(share * 1e4) / 1e4))
