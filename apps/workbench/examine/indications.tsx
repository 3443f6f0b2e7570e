import type { JobSummary, PlaceDetail } from '../asking/client.ts'
import { useWriting } from '../units/use-writing.ts'
import { ClassSign } from './class-sign.tsx'
import { WhatItShows } from './what-it-shows.tsx'

interface IndicationsProps {
  readonly job: Pick<JobSummary, 'capability'>
  readonly place: PlaceDetail
  readonly chosen: string | undefined
  readonly basis: string
  pick(id: string): void
}

/** The indications of a place as buttons: every one can be reached without the map. */
export function Indications({ job, place, chosen, basis, pick }: IndicationsProps) {
  if (place.indications.length === 0) return <NoIndication job={job} place={place} />
  return (
    <ul className="indications">
      {place.indications.map((one) => (
        <li key={one.id}>
          <IndicationButton
            one={one}
            unit={place.amplitudeUnit}
            basis={basis}
            isChosen={one.id === chosen}
            pick={() => pick(one.id)}
          />
        </li>
      ))}
    </ul>
  )
}

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
function NoIndication({ job, place }: Pick<IndicationsProps, 'job' | 'place'>) {
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
      <WhatItShows job={job} />
    </div>
  )
}
