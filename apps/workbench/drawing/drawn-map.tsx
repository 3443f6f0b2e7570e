import { type ReactNode, useCallback, useMemo, useState } from 'react'
import type { JobSummary } from '../asking/client.ts'
import { useOutbox } from '../outbox/use-outbox.ts'
import { useSession } from '../session/session.ts'
import { type Drafts, type Drawing, drawnNow, marksOn, nextToPlace } from './drawings.ts'
import { MarkedPicture, type Spot } from './marked-picture.tsx'
import { Putting } from './putting.tsx'

interface DrawnProps {
  readonly job: JobSummary
  readonly drawing: Drawing
  readonly shown: ReadonlySet<string>
  /** what stands before the tools of the drawing */
  readonly head: ReactNode
}

const zooms = [1, 1.5, 2, 3, 4, 6, 8]

/** One drawing with the places on it; who has signed in puts places there. */
export function DrawnMap({ job, drawing, shown, head }: DrawnProps) {
  const { all } = useOutbox()
  const by = useSession()?.person?.name
  const [page, setPage] = useState(() => drawing.places[0]?.page ?? 1)
  const [pages, setPages] = useState(1)
  const [zoom, setZoom] = useState(1)
  const [drafts, setDrafts] = useState<Drafts>(new Map())
  const [name, choose] = useState<string>()
  const own = useMemo(() => all.filter((one) => one.job === job.job), [all, job.job])
  const drawn = useMemo(() => drawnNow(drawing, own, drafts), [drawing, own, drafts])
  const marks = useMemo(() => marksOn(drawn, page, job.places), [drawn, page, job.places])
  const put = useCallback(
    (where: Spot) => {
      if (name === undefined) return
      const next = new Map(drafts).set(name, { ...where, page })
      setDrafts(next)
      choose(nextToPlace(job.places, drawnNow(drawing, own, next), name) ?? name)
    },
    [name, drafts, page, job.places, drawing, own]
  )
  const putting = name === undefined || by === undefined ? undefined : { name, put, choose }
  const step = (by: number) => setZoom(zooms[zooms.indexOf(zoom) + by] ?? zoom)
  return (
    <>
      <div className="map-head">
        {head}
        <button type="button" onClick={() => step(1)} disabled={zoom === zooms.at(-1)} aria-label="larger">
          +
        </button>
        <button type="button" onClick={() => step(-1)} disabled={zoom === 1} aria-label="smaller">
          −
        </button>
        <Pages page={page} pages={pages} turn={setPage} />
        <span className="quiet small">{`${drawn.length} of ${job.places.length} on it`}</span>
        <Putting {...{ job, drawing, drawn, drafts, by, name, choose }} keep={setDrafts} />
      </div>
      <MarkedPicture {...{ job: job.job, drawing, page, zoom, marks, shown, putting }} pages={setPages} />
    </>
  )
}

interface PagesProps {
  readonly page: number
  readonly pages: number
  turn(page: number): void
}

function Pages({ page, pages, turn }: PagesProps) {
  if (pages < 2) return null
  return (
    <fieldset className="pages" aria-label="pages">
      <button type="button" onClick={() => turn(page - 1)} disabled={page <= 1}>
        page before
      </button>
      <span>{`${page} of ${pages}`}</span>
      <button type="button" onClick={() => turn(page + 1)} disabled={page >= pages}>
        next page
      </button>
    </fieldset>
  )
}
