import { useState } from 'react'
import type { PlaceDetail } from '../asking/client.ts'
import type { Said as Statement } from '../asking/statements.ts'

interface SaidProps {
  readonly place: PlaceDetail
  readonly by: string | undefined
  say(said: Statement): void
}

interface Line {
  readonly entry: string
  readonly by: string
  readonly time: string
  readonly words: string
}

/** What people have stated of this place, newest first. Whoever stated it may take it back: that is a new entry too. */
export function Said({ place, by, say }: SaidProps) {
  const lines = linesOf(place)
  if (lines.length === 0) return null
  return (
    <div className="said">
      <h3>Stated of this place</h3>
      <ul>
        {lines.map((line) => (
          <li key={line.entry + line.words}>
            <span>{line.words}</span>
            <span className="quiet">{`${line.by}, ${line.time}`}</span>
            {line.by === by ? <TakeBack entry={line.entry} say={say} /> : null}
          </li>
        ))}
      </ul>
    </div>
  )
}

interface TakeBackProps {
  /** id of the entry */
  readonly entry: string
  readonly words?: string
  say(said: Statement): void
}

/** Takes back an own entry, with the reason. */
export function TakeBack({ entry, words = 'Take back', say }: TakeBackProps) {
  const [reason, setReason] = useState<string>()
  if (reason === undefined)
    return (
      <button type="button" onClick={() => setReason('')}>
        {words}
      </button>
    )
  return (
    <form
      className="take-back"
      onSubmit={(event) => {
        event.preventDefault()
        say({ what: 'withdraw', entry, reason: reason.trim() })
        setReason(undefined)
      }}
    >
      <label className="field">
        <span>reason</span>
        <input value={reason} onChange={({ target }) => setReason(target.value)} />
      </label>
      <button type="submit" disabled={reason.trim() === ''}>
        {words}
      </button>
    </form>
  )
}

function linesOf({ indications, disposition, looks, notes = [], closed, leftOut }: WithNotes): readonly Line[] {
  const line = (one: Stated, words: string): Line => ({
    ...{ entry: one.entry, by: one.by, time: one.at.time.slice(0, 16).replace('T', ' ') },
    words: one.reason === undefined ? words : `${words}: ${one.reason}`
  })
  const all = [
    ...indications.flatMap(({ id, decided }) =>
      decided === undefined ? [] : [line(decided, `${id} ${decided.class}`)]
    ),
    ...(disposition === undefined ? [] : [line(disposition, disposition.disposition)]),
    ...looks.map((look) => line(look, look.agrees ? 'second look agrees' : 'second look disagrees')),
    ...notes.map((note) => line(note, `note "${note.text}"`)),
    ...(leftOut === undefined ? [] : [line(leftOut, 'left out')]),
    ...(closed === undefined ? [] : [line(closed, 'closed')])
  ]
  return all.toSorted((a, b) => b.time.localeCompare(a.time))
}

type Stated = NonNullable<PlaceDetail['closed']>
type WithNotes = PlaceDetail & { readonly notes?: readonly (Stated & { readonly text: string })[] }
