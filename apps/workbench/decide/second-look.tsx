import { useId, useState } from 'react'
import type { PlaceDetail } from '../asking/client.ts'
import type { Said } from '../asking/statements.ts'

interface LookProps {
  readonly place: PlaceDetail
  readonly by: string | undefined
  say(said: Said): void
}

/** Another person looks at what was decided. Shown to whoever did not decide it. */
export function SecondLook({ place, by, say }: LookProps) {
  const [reason, setReason] = useState('')
  const id = useId()
  const decisions = [place.disposition, ...place.indications.map(({ decided }) => decided)].filter(
    (one) => one !== undefined
  )
  if (by === undefined || !decisions.some((one) => one.by !== by)) return null
  const look = (agrees: boolean) => {
    say({ what: 'look again', place: place.name, agrees, ...(reason.trim() === '' ? {} : { reason: reason.trim() }) })
    setReason('')
  }
  return (
    <fieldset className="second-look" aria-label="second look">
      <h3>Second look</h3>
      <span className="field">
        <label htmlFor={id}>what was seen</label>
        <input id={id} value={reason} onChange={({ target }) => setReason(target.value)} />
      </span>
      <button type="button" onClick={() => look(true)}>
        agrees
      </button>
      <button type="button" onClick={() => look(false)}>
        disagrees
      </button>
    </fieldset>
  )
}
