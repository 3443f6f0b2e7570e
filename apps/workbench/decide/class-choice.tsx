import type { ReactNode } from 'react'
import type { PlaceDetail } from '../asking/client.ts'
import type { ClassSaid } from '../asking/statements.ts'
import { ClassSign } from '../examine/class-sign.tsx'
import { classes } from './dispositions.ts'

interface ClassChoiceProps {
  readonly one: PlaceDetail['indications'][number]
  readonly said: ClassSaid | undefined
  say(said: ClassSaid): void
  /** the way to other indications */
  readonly children?: ReactNode
}

/** The class of one indication, by a person. Nothing is pressed until they press it. */
export function ClassChoice({ one, said, say, children }: ClassChoiceProps) {
  return (
    <div className="class-choice">
      <div className="head">
        <p>
          <b>{one.id}</b>
          {one.decided === undefined
            ? one.hidden === true
              ? ': what is it, by the signal alone?'
              : ` is proposed as ${one.proposed}`
            : `: ${one.decided.by} said ${one.decided.class}`}
        </p>
        {children}
      </div>
      <fieldset className="classes" aria-label={`class of ${one.id}`}>
        {classes.map((each) => (
          <button key={each} type="button" aria-pressed={each === said} onClick={() => say(each)}>
            <ClassSign name={each} decided={false} />
            {each}
          </button>
        ))}
      </fieldset>
    </div>
  )
}
