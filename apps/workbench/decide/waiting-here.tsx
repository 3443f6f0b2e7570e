import type { Statement } from '../asking/statements.ts'
import { useOutbox } from '../outbox/use-outbox.ts'
import type { Waiting } from '../outbox/waiting.ts'
import { RefusalList } from '../shell/refusals.tsx'

interface HereProps {
  readonly job: string
  /** absent: what is of the job as a whole */
  readonly place?: string
  /** what was refused goes back into the form, to be said otherwise; absent where no form takes it */
  again?(said: Statement): void
}

/** What was stated of this place and is not in the record: it waits, or was refused. */
export function WaitingHere({ job, place, again }: HereProps) {
  const { all, giveUp } = useOutbox()
  const here = all.filter((one) => one.job === job && one.place === place)
  if (here.length === 0) return null
  return (
    <ul className="waiting-here">
      {here.map((one) => (
        <li key={one.statement.id}>
          <p>
            <b>{one.refused === undefined ? 'Waiting to be recorded' : 'Not recorded'}</b>
            {`: ${wordsOf(one)} (${one.by})`}
          </p>
          {one.refused === undefined ? null : (
            <>
              <RefusalList refusals={one.refused} />
              {again === undefined ? null : (
                <button
                  type="button"
                  onClick={() => {
                    again(one.statement)
                    giveUp(one.statement.id)
                  }}
                >
                  Say it otherwise
                </button>
              )}
              <button type="button" onClick={() => giveUp(one.statement.id)}>
                Put aside
              </button>
            </>
          )}
        </li>
      ))}
    </ul>
  )
}

function wordsOf({ statement: said }: Waiting): string {
  if (said.what === 'note') return `note "${said.text}"`
  if (said.what === 'withdraw') return `taken back: ${said.reason}`
  if (said.what === 'look again') return said.agrees ? 'second look agrees' : 'second look disagrees'
  if (said.what === 'place on a drawing') return `on a drawing: ${said.marks.map(({ place }) => place).join(', ')}`
  if (said.what === 'close places') return `closed ${said.places.join(', ')}`
  if (said.what !== 'decide') return said.what
  const classes = (said.classes ?? []).map((one) => `${one.indication} ${one.class}`)
  return [...classes, ...(said.disposition === undefined ? [] : [said.disposition])].join('; ')
}
