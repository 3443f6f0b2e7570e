import { useId, useState } from 'react'
import type { JobSummary, PlaceDetail } from '../asking/client.ts'
import type { ClassSaid, Disposition, Said } from '../asking/statements.ts'
import { useOutbox } from '../outbox/use-outbox.ts'
import { useSession } from '../session/session.ts'
import { useKeys } from '../shell/use-keys.ts'
import { ClassChoice } from './class-choice.tsx'
import { dispositions } from './dispositions.ts'
import { NoteCodes } from './note-codes.tsx'
import { PhotoOf } from './photo-of.tsx'
import { Said as SaidList } from './said.tsx'
import { SecondLook } from './second-look.tsx'
import { WaitingHere } from './waiting-here.tsx'

interface DecideProps {
  readonly job: JobSummary
  readonly place: PlaceDetail
  readonly chosen: string | undefined
  /** to the indication after or before the chosen one */
  step(by: 1 | -1): void
}

/** What a person decides of this place. The program has proposed; nothing is chosen for them. */
export function DecidePanel({ job, place, chosen, step }: DecideProps) {
  const by = useSession()?.person?.name
  const { take } = useOutbox()
  const [classes, setClasses] = useState<Readonly<Record<string, ClassSaid>>>({})
  const [disposition, setDisposition] = useState<Disposition>()
  const [size, setSize] = useState('')
  const [reason, setReason] = useState('')
  const sizeId = useId()
  const reasonId = useId()

  const say = (said: Said) => {
    if (by !== undefined) take({ job: job.job, place: place.name, by, seen: job.entries }, said)
  }
  const again = (said: Said) => {
    if (said.what === 'note') setReason(said.text)
    if (said.what !== 'decide') return
    setClasses(Object.fromEntries((said.classes ?? []).map((one) => [one.indication, one.class])))
    setDisposition(said.disposition)
    setSize(said.size_mm === undefined ? '' : String(said.size_mm))
    setReason(said.reason ?? '')
  }
  const hasSaid = Object.keys(classes).length > 0 || disposition !== undefined
  const record = () => {
    if (!hasSaid || by === undefined) return
    say(decision({ place: place.name, classes, disposition, size, reason }))
    setClasses({})
    setDisposition(undefined)
    setSize('')
    setReason('')
  }
  const one = place.indications.find(({ id }) => id === chosen)
  const setClass = (said: ClassSaid) =>
    one === undefined
      ? undefined
      : setClasses(({ [one.id]: before, ...rest }) => (before === said ? rest : { ...rest, [one.id]: said }))
  const dispose = (each: Disposition) => setDisposition((before) => (before === each ? undefined : each))
  useKeys({
    r: () => setClass('relevant'),
    d: () => setClass('damage, not a crack'),
    o: () => setClass('nonrelevant'),
    f: () => setClass('false'),
    c: () => dispose('no recordable indication'),
    m: () => (place.of === 'hole' ? dispose('clean-up ream') : undefined),
    x: () => dispose('reject'),
    e: () => dispose('refer'),
    s: record
  })
  return (
    <div className="decide-panel">
      <div className="scrolls">
        <WaitingHere job={job.job} place={place.name} again={again} />
        {one === undefined ? null : (
          <ClassChoice one={one} said={classes[one.id]} say={setClass}>
            <Others place={place} chosen={one.id} said={classes} step={step} />
          </ClassChoice>
        )}
        <fieldset className="dispositions" aria-label={`disposition of ${place.of} ${place.name}`}>
          {dispositions
            .filter((each) => place.of === 'hole' || each !== 'clean-up ream')
            .map((each) => (
              <button key={each} type="button" aria-pressed={each === disposition} onClick={() => dispose(each)}>
                {each}
              </button>
            ))}
        </fieldset>
        {disposition === 'clean-up ream' ? (
          <span className="field">
            <label htmlFor={sizeId}>size, mm</label>
            <input id={sizeId} inputMode="decimal" value={size} onChange={({ target }) => setSize(target.value)} />
          </span>
        ) : null}
        {by === undefined ? <p className="quiet">Sign in to decide: what you state is signed with your key.</p> : null}
        <SecondLook place={place} by={by} say={say} />
        <SaidList place={place} by={by} say={say} />
      </div>
      {place.of === 'track' ? <NoteCodes text={reason} write={setReason} /> : null}
      <span className="field">
        <label htmlFor={reasonId}>reason</label>
        <textarea id={reasonId} rows={1} value={reason} onChange={({ target }) => setReason(target.value)} />
      </span>
      <div className="buttons">
        <button type="button" className="action" disabled={!hasSaid || by === undefined} onClick={record}>
          Sign and record
        </button>
        <button
          type="button"
          disabled={by === undefined || reason.trim() === '' || hasSaid}
          onClick={() => {
            say({ what: 'note', place: place.name, text: reason.trim() })
            setReason('')
          }}
        >
          Keep as a note
        </button>
        {by === undefined ? null : <PhotoOf job={job} place={place} by={by} />}
      </div>
    </div>
  )
}

interface OthersProps extends Pick<DecideProps, 'place' | 'step'> {
  readonly chosen: string
  readonly said: Readonly<Record<string, ClassSaid>>
}

/** Where a place has several indications: which of them this is, and the way to the others. */
function Others({ place: { indications }, chosen, said, step }: OthersProps) {
  if (indications.length < 2) return null
  const at = indications.findIndex(({ id }) => id === chosen)
  const open = indications.filter(({ id, open: waits }) => waits && said[id] === undefined).length
  return (
    <fieldset className="others" aria-label="other indications">
      <button type="button" onClick={() => step(-1)} aria-label="indication before">
        ‹
      </button>
      <span>{`${at + 1} of ${indications.length}${open === 0 ? '' : `, ${open} without your class`}`}</span>
      <button type="button" onClick={() => step(1)} aria-label="next indication">
        ›
      </button>
    </fieldset>
  )
}

interface Deciding {
  readonly place: string
  readonly classes: Readonly<Record<string, ClassSaid>>
  readonly disposition: Disposition | undefined
  readonly size: string
  readonly reason: string
}

function decision({ place, classes, disposition, size, reason }: Deciding): Said {
  const said = Object.entries(classes).map(([indication, one]) => ({ indication, class: one }))
  const mm = Number(size.replace(',', '.'))
  return {
    what: 'decide',
    place,
    ...(said.length === 0 ? {} : { classes: said }),
    ...(disposition === undefined ? {} : { disposition }),
    ...(disposition === 'clean-up ream' && mm > 0 ? { size_mm: mm } : {}),
    ...(reason.trim() === '' ? {} : { reason: reason.trim() })
  }
}
