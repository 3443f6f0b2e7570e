import { type ReactNode, useState } from 'react'

interface SheetsProps {
  readonly why: ReactNode
  readonly loop: ReactNode
  readonly decide: ReactNode
}

const names = ['why', 'loop', 'decide'] as const

/** What stands under the map: side by side where there is room, else one at a time over its lower half. */
export function Sheets(props: SheetsProps) {
  const [open, setOpen] = useState<(typeof names)[number]>('why')
  return (
    <div className="below" data-open={open}>
      <fieldset className="choice sheet-names" aria-label="sheet">
        {names.map((name) => (
          <button key={name} type="button" aria-pressed={name === open} onClick={() => setOpen(name)}>
            {name}
          </button>
        ))}
      </fieldset>
      <section className="why" aria-label="why">
        {props.why}
      </section>
      <section className="loop-area" aria-label="loop of the chosen place">
        {props.loop}
      </section>
      <section className="decide" aria-label="decide">
        {props.decide}
      </section>
    </div>
  )
}
