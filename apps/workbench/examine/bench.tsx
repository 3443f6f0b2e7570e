import { useQuery } from '@tanstack/react-query'
import { useMemo, useState } from 'react'
import type { JobSummary, PlaceDetail } from '../asking/client.ts'
import { examinationQuery, standardizationQuery, wallQuery } from '../asking/queries.ts'
import { Trouble } from '../shell/refusals.tsx'
import { useWriting } from '../units/use-writing.ts'
import { depthAxis, rulerOf, type Spot } from '../wall/depth-axis.ts'
import type { Quantity } from '../wall/map-image.ts'
import { traceAround } from '../wall/wall.ts'
import { DownProfile } from './down-profile.tsx'
import { Evidence } from './evidence.tsx'
import { Headline } from './headline.tsx'
import { Indications } from './indications.tsx'
import { Loop } from './loop.tsx'
import { type MarkOnWall, sceneOf, spotOf } from './map-scene.ts'
import { AroundProfile } from './profiles.tsx'
import { Readout } from './readout.tsx'
import { Scans } from './scans.tsx'
import { Toolbar } from './toolbar.tsx'
import { type View, wholeView } from './view.ts'
import { WallMap } from './wall-map.tsx'

interface BenchProps {
  readonly job: JobSummary
  readonly place: PlaceDetail
}

/** All views of one place, linked: what is chosen in one is shown in all. */
export function Bench({ job, place }: BenchProps) {
  const [scan, setScan] = useState(place.latest)
  return (
    <div className="bench">
      <Headline job={job} place={place} />
      {scan === undefined ? (
        <NeverScanned place={place} />
      ) : (
        <ScanViews key={scan} job={job} place={place} scan={scan} setScan={setScan} />
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

interface ScanProps extends BenchProps {
  readonly scan: string
  setScan(scan: string): void
}

function ScanViews({ job, place, scan, setScan }: ScanProps) {
  const examination = useQuery(examinationQuery(job.job, scan))
  const wall = useQuery({ ...wallQuery(job.job, scan), enabled: place.of === 'hole' })
  const hash = examination.data?.document.standardization ?? 'none'
  const standardization = useQuery({ ...standardizationQuery(job.job, hash), enabled: hash !== 'none' })
  const error = examination.error ?? wall.error
  if (error !== null) return <Trouble error={error} />
  if (examination.data === undefined || (place.of === 'hole' && wall.data === undefined))
    return <div className="views" />
  const views = { job, place, scan, setScan, document: examination.data.document }
  if (wall.data === undefined) return <WithoutMap {...views} />
  return <Views {...views} wall={wall.data} {...(standardization.data && { standardization: standardization.data })} />
}

type Document = Parameters<typeof sceneOf>[0]['document']

interface ViewsProps extends ScanProps {
  readonly document: Document
  readonly wall: Parameters<typeof traceAround>[0]
  readonly standardization?: Parameters<typeof Loop>[0]['notch']
}

function Views({ job, place, scan, setScan, document, wall, standardization }: ViewsProps) {
  const { writing } = useWriting()
  const axis = useMemo(
    () => depthAxis(wall, document.position, mm(place.listed.grip_mm)),
    [wall, document, place.listed.grip_mm]
  )
  const scene = useMemo(() => sceneOf({ place, document, axis, writing }), [place, document, axis, writing])
  const first = strongest(scene.marks, place)
  const [view, look] = useState<View>(() => wholeView(axis))
  const [quantity, setQuantity] = useState<Quantity>('across lift-off')
  const [spot, setSpot] = useState<Spot>(() => (first === undefined ? middleOf(axis) : spotOf(first)))
  const [chosen, setChosen] = useState(first?.id)
  const pick = (mark: MarkOnWall) => {
    setChosen(mark.id)
    setSpot(spotOf(mark))
  }
  const shown = useMemo(() => ({ wall, axis }), [wall, axis])
  const half = standardization === undefined ? 12 : Math.round((standardization.form.half * wall.columns) / 512)
  const ruler = rulerOf(axis, spot)
  const trace = useMemo(() => traceAround(wall, ruler, half), [wall, ruler, half])
  const label = `Unrolled wall of ${place.of} ${place.name}: ${scene.marks.length} indications`
  return (
    <div className="views">
      <Toolbar
        quantity={quantity}
        setQuantity={setQuantity}
        view={view}
        look={look}
        whole={wholeView(axis)}
        spot={spot}
      />
      <div className="map-area">
        <WallMap {...{ scene, wall, quantity, view, spot, chosen, label, look, pick }} choose={setSpot} />
        <DownProfile {...{ shown, other: undefined, spot, view, writing, half }} alarm={document.noise?.alarm} />
        <AroundProfile shown={shown} other={undefined} spot={spot} view={view} writing={writing} />
        <Scans place={place} scan={scan} setScan={setScan} />
      </div>
      <div className="below">
        <section className="why" aria-label="why">
          <Indications place={place} marks={scene.marks} chosen={chosen} pick={pick} basis={scene.basis} />
          <Evidence place={place} document={document} chosen={chosen} />
        </section>
        <section className="loop-area" aria-label="loop of the chosen place">
          <Loop trace={trace} other={undefined} notch={standardization} writing={writing} />
          <Readout scene={scene} spot={spot} trace={trace} />
        </section>
        <section className="decide" aria-label="decide">
          <p className="quiet">{job.job}</p>
        </section>
      </div>
    </div>
  )
}

const mm = (value: number | undefined): number | undefined => (value === undefined ? undefined : value * 1e-3)

const middleOf = ({ from, to }: { readonly from: number; readonly to: number }): Spot => ({
  turn: 0.25,
  depth: (from + to) / 2
})

/** What is looked at first: what waits, the strongest before all. */
function strongest(marks: readonly MarkOnWall[], { indications }: PlaceDetail): MarkOnWall | undefined {
  const size = (id: string): number => {
    const one = indications.find((indication) => indication.id === id)
    const amplitude = one?.seen[one.strongest]?.amplitude ?? 0
    return one?.open === true ? 1e6 + amplitude : amplitude
  }
  return marks.toSorted((a, b) => size(b.id) - size(a.id))[0]
}

/** Tracks and loops: their findings, without a map of a wall. */
function WithoutMap({ place, document, scan, setScan }: Omit<ViewsProps, 'wall'>) {
  const [chosen, setChosen] = useState(place.indications[0]?.id)
  return (
    <div className="views">
      <div className="below">
        <section className="why" aria-label="why">
          <Indications
            place={place}
            marks={[]}
            chosen={chosen}
            pick={({ id }) => setChosen(id)}
            basis={document.position.angle}
          />
          <Evidence place={place} document={document} chosen={chosen} />
        </section>
        <Scans place={place} scan={scan} setScan={setScan} />
      </div>
    </div>
  )
}
