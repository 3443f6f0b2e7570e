import type { Standardization } from '@trueloop/job/standardize'
import { useMemo, useState } from 'react'
import type { StoredExamination } from '../asking/client.ts'
import { DecidePanel } from '../decide/decide-panel.tsx'
import { useKeys } from '../shell/use-keys.ts'
import { useWriting } from '../units/use-writing.ts'
import { depthAxis, rulerOf, type Spot } from '../wall/depth-axis.ts'
import type { Quantity } from '../wall/map-image.ts'
import { type SignalState, signalStates } from '../wall/signal-states.ts'
import { traceAround, type WallSignal } from '../wall/wall.ts'
import { CompareWith } from './compare-with.tsx'
import { DownProfile } from './down-profile.tsx'
import { Evidence } from './evidence.tsx'
import { Indications } from './indications.tsx'
import { Loop } from './loop.tsx'
import { sceneOf, spotOf } from './map-scene.ts'
import { firstMark, middleOf, neighborOf } from './picking.ts'
import { AroundProfile } from './profiles.tsx'
import { Readout } from './readout.tsx'
import type { ScanProps } from './scan-props.ts'
import { Scans } from './scans.tsx'
import { Sheets } from './sheets.tsx'
import { Toolbar } from './toolbar.tsx'
import { useCompared } from './use-compared.ts'
import { useShown } from './use-shown.ts'
import { type View, wholeView } from './view.ts'
import { WallMap } from './wall-map.tsx'

interface ViewsProps extends ScanProps {
  readonly document: StoredExamination['document']
  readonly wall: WallSignal
  readonly standardization: Standardization | undefined
}

/** All views of one scan of a hole, linked: what is chosen in one is shown in all. */
export function Views({ job, place, document, wall, standardization, scan, setScan }: ViewsProps) {
  const { writing } = useWriting()
  const grip = place.listed.grip_mm === undefined ? undefined : place.listed.grip_mm * 1e-3
  const axis = useMemo(() => depthAxis(wall, document.position, grip), [wall, document, grip])
  const scene = useMemo(() => sceneOf({ place, document, axis, writing }), [place, document, axis, writing])
  const whole = useMemo(() => wholeView(axis), [axis])
  const first = useMemo(() => firstMark(scene.marks, place), [scene.marks, place])

  const [view, look] = useState<View>(whole)
  const [quantity, setQuantity] = useState<Quantity>('across lift-off')
  const [state, setState] = useState<SignalState>('standardized')
  const [spot, choose] = useState<Spot>(() => (first === undefined ? middleOf(axis) : spotOf(first)))
  const [chosen, setChosen] = useState(first?.id)
  const [comparedWith, compareWith] = useState<string>()

  const { stated, notch, note } = useShown({ job: job.job, scan, document, wall, standardization, state })
  const other = useCompared({ job, place: comparedWith, state: stated.state })
  const shown = useMemo(() => ({ ...stated, axis }), [stated, axis])
  const half = standardization === undefined ? 12 : Math.round((standardization.form.half * wall.columns) / 512)
  const trace = useMemo(() => traceAround(stated.wall, rulerOf(axis, spot), half), [stated.wall, axis, spot, half])
  const beside = useMemo(
    () => (other === undefined ? undefined : traceAround(other.wall, rulerOf(other.axis, spot), half)),
    [other, spot, half]
  )

  const pick = (id: string | undefined) => {
    if (id === undefined) return
    setChosen(id)
    // one that this scan has not seen, or not placed, can be chosen all the same
    const mark = scene.marks.find((one) => one.id === id)
    if (mark !== undefined) choose(spotOf(mark))
  }
  useKeys({
    1: () => setState('recorded'),
    2: () => setState('conditioned'),
    3: () => setState('standardized'),
    '[': () => pick(neighborOf(place, chosen, -1)),
    ']': () => pick(neighborOf(place, chosen, 1))
  })

  const label = `Unrolled wall of ${place.of} ${place.name}: ${scene.marks.length} indications`
  const drawn = { shown, other, spot, view, writing }
  return (
    <div className="views">
      <Toolbar {...{ quantity, setQuantity, state, setState, view, look, whole, spot, stated }} states={signalStates}>
        <CompareWith job={job} place={place} chosen={comparedWith} choose={compareWith} />
        {note === undefined ? null : <span className="quiet note">{note}</span>}
      </Toolbar>
      <div className="map-area">
        <WallMap
          {...{ scene, quantity, view, spot, chosen, label, look, choose }}
          pick={({ id }) => pick(id)}
          wall={stated.wall}
          scale={stated.scale}
        />
        <DownProfile {...drawn} half={half} alarm={stated.unit === 'notch' ? document.noise?.alarm : undefined} />
        <AroundProfile {...drawn} />
        <Scans job={job} place={place} scan={scan} setScan={setScan} />
      </div>
      <Sheets
        why={
          <>
            <Indications job={job} place={place} chosen={chosen} pick={pick} basis={scene.basis} />
            <Evidence place={place} document={document} chosen={chosen} />
          </>
        }
        loop={
          <>
            <Loop {...{ trace, other: beside, notch, writing }} stated={stated} />
            <Readout scene={scene} spot={spot} trace={trace} stated={stated} />
          </>
        }
        decide={
          <DecidePanel job={job} place={place} chosen={chosen} step={(by) => pick(neighborOf(place, chosen, by))} />
        }
      />
    </div>
  )
}
