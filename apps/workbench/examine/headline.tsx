import { Link, useNavigate } from '@tanstack/react-router'
import type { JobSummary, PlaceDetail } from '../asking/client.ts'
import { nextOpen } from '../queue/wanted.ts'
import { KeysHelp } from '../shell/keys-help.tsx'
import { StateMark } from '../shell/marks.tsx'
import { useKeys } from '../shell/use-keys.ts'
import { useWriting } from '../units/use-writing.ts'

interface HeadlineProps {
  readonly job: JobSummary
  readonly place: PlaceDetail
}

/** What place this is and how it stands; the places before and after it, and the next one that waits. */
export function Headline({ job, place }: HeadlineProps) {
  const { places } = job
  const at = places.findIndex(({ of, name }) => of === place.of && name === place.name)
  const [before, next, waits] = [places[at - 1], places[at + 1], nextOpen(places, place.name)]
  const navigate = useNavigate()
  const go = (to: typeof next) => () => {
    if (to !== undefined)
      void navigate({ to: '/jobs/$job/$of/$name', params: { job: job.job, of: to.of, name: to.name } })
  }
  useKeys({ ',': go(before), '.': go(next), n: go(waits) })
  return (
    <header className="headline-bar">
      <StateMark place={place} side={34} />
      <div className="place-words">
        <h1>
          {place.of} {place.name}
        </h1>
        <p>
          <b>{place.state}</b>
          <Facts place={place} />
        </p>
      </div>
      <nav className="steps" aria-label="other places">
        <KeysHelp />
        <Step job={job.job} to={before} word="before" sign="←" />
        <span className="figure">
          {at + 1} of {places.length}
        </span>
        <Step job={job.job} to={next} word="next" sign="→" />
        <Step job={job.job} to={waits} word="next that waits" sign="↠" />
      </nav>
    </header>
  )
}

const counted = (count: number, one: string): string => `${count} ${count === 1 ? one : `${one}s`}`

function Facts({ place }: Pick<HeadlineProps, 'place'>) {
  const { length } = useWriting()
  const { listed, zones, zonesExamined, relevant, undecided } = place
  const layers = (listed.interfaces_mm?.length ?? -1) + 1
  const facts = [
    ...(listed.diameter_mm === undefined ? [] : [`Ø ${length(listed.diameter_mm * 1e-3)}`]),
    ...(layers > 0 ? [`stack of ${layers}`] : []),
    ...(zones > 0 ? [`zones ${zonesExamined} of ${zones} examined`] : []),
    counted(place.indications.length, 'indication'),
    ...(relevant > 0 ? [`${relevant} relevant`] : []),
    ...(undecided > 0 ? [`${undecided} undecided`] : []),
    ...(place.provisional ? ['until a good recheck'] : [])
  ]
  return (
    <>
      {facts.map((fact) => (
        <span key={fact} className="fact">
          {fact}
        </span>
      ))}
    </>
  )
}

interface StepProps {
  readonly job: string
  readonly to: JobSummary['places'][number] | undefined
  readonly word: string
  readonly sign: string
}

function Step({ job, to, word, sign }: StepProps) {
  if (to === undefined)
    return (
      <span className="step-button off" aria-hidden="true">
        <span>{sign}</span>
      </span>
    )
  const { of, name } = to
  return (
    <Link
      className="step-button"
      to="/jobs/$job/$of/$name"
      params={{ job, of, name }}
      aria-label={`${word}: ${of} ${name}`}
    >
      <span aria-hidden="true">{sign}</span>
      <span className="small">{name}</span>
    </Link>
  )
}
