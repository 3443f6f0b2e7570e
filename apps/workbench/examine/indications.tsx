import type { PlaceDetail } from '../asking/client.ts'
import { useWriting } from '../units/use-writing.ts'
import { ClassSign } from './class-sign.tsx'
import type { MarkOnWall } from './map-scene.ts'

interface IndicationsProps {
  readonly place: PlaceDetail
  readonly marks: readonly MarkOnWall[]
  readonly chosen: string | undefined
  readonly basis: string
  pick(mark: MarkOnWall): void
}

/** The indications of a place as buttons: every one can be reached without the map. */
export function Indications({ place, marks, chosen, basis, pick }: IndicationsProps) {
  if (place.indications.length === 0) return <NoIndication place={place} />
  return (
    <ul className="indications">
      {place.indications.map((one) => (
        <li key={one.id}>
          <IndicationButton
            one={one}
            unit={place.amplitudeUnit}
            basis={basis}
            isChosen={one.id === chosen}
            pick={() => pick(marks.find(({ id }) => id === one.id) ?? bare(one))}
          />
        </li>
      ))}
    </ul>
  )
}

/** Not seen by this scan, or not placed by it: it can be chosen all the same. */
const bare = (one: PlaceDetail['indications'][number]): MarkOnWall => ({
  ...{ id: one.id, class: one.class, crossedAlarm: one.crossedAlarm, decided: one.decided !== undefined },
  ...{ turn: 0, depth: 0, from: 0, to: 0, half: 0 }
})

interface ButtonProps {
  readonly one: PlaceDetail['indications'][number]
  readonly unit: PlaceDetail['amplitudeUnit']
  readonly basis: string
  readonly isChosen: boolean
  pick(): void
}

function IndicationButton({ one, unit, basis, isChosen, pick }: ButtonProps) {
  const { amplitude, around, length } = useWriting()
  const seen = one.seen[one.strongest]
  const facts =
    seen === undefined
      ? []
      : [
          amplitude(seen.amplitude, unit),
          ...(seen.angle_rad === undefined ? [] : [around(seen.angle_rad, basis)]),
          ...(seen.z_m === undefined ? [] : [length(seen.z_m)]),
          seen.zone
        ]
  return (
    <button type="button" className="indication" aria-pressed={isChosen} onClick={pick}>
      <ClassSign name={one.class} decided={one.decided !== undefined} />
      <b>{one.id}</b>
      <span>
        {standingOf(one)}
        {one.open ? '; waits' : ''}
      </span>
      <span className="quiet">{facts.join(' · ')}</span>
    </button>
  )
}

function NothingExamined({ place }: Pick<IndicationsProps, 'place'>) {
  const { sentence } = useWriting()
  return (
    <div className="no-indication">
      <p className="failed">
        Nothing of this place counts as examined. The signal is shown as it was recorded; no finding follows from it.
      </p>
      <ul>
        {place.why.map((why) => (
          <li key={why}>{sentence(why)}</li>
        ))}
      </ul>
    </div>
  )
}

const standingOf = ({ hidden, decided, class: name }: ButtonProps['one']): string => {
  if (hidden === true) return 'your class first'
  return decided === undefined ? `proposed: ${name}` : `${name}, said by ${decided.by}`
}

/** Never "nothing there": what was examined, and what that could have shown. */
function NoIndication({ place }: Pick<IndicationsProps, 'place'>) {
  const { zones, zonesExamined, missing } = place
  if (zonesExamined === 0) return <NothingExamined place={place} />
  return (
    <div className="no-indication">
      <p>
        {`Examined: ${zonesExamined === zones ? 'all' : zonesExamined} of ${zones} zones. No relevant indication there.`}
      </p>
      {missing.length === 0 ? null : (
        <p className="failed">{`Not examined: ${missing.map(({ zone }) => zone).join(', ')}.`}</p>
      )}
    </div>
  )
}
