import type { ReactNode } from 'react'
import { useDark } from '../plot/tones.ts'
import type { Spot } from '../wall/depth-axis.ts'
import { barOf, type Quantity, tableOf } from '../wall/map-image.ts'
import type { SignalState, StatedWall } from '../wall/signal-states.ts'
import { type View, zoomed } from './view.ts'

interface ToolbarProps {
  readonly quantity: Quantity
  setQuantity(quantity: Quantity): void
  readonly states: readonly SignalState[]
  readonly state: SignalState
  setState(state: SignalState): void
  readonly stated: StatedWall
  readonly view: View
  readonly whole: View
  readonly spot: Spot
  look(view: View): void
  readonly children?: ReactNode
}

const quantities: readonly Quantity[] = ['across lift-off', 'along lift-off', 'size']

/** What is shown of the signal, in which state, and how near. */
export function Toolbar(props: ToolbarProps) {
  const { quantity, setQuantity, states, state, setState, stated, view, whole, spot, look, children } = props
  return (
    <div className="toolbar">
      <Choice of="state of the signal" all={states} chosen={state} choose={setState} />
      <Choice
        of="what the map shows"
        all={quantities}
        chosen={quantity}
        choose={setQuantity}
        {...(stated.unit === 'notch' ? {} : { words: axisWords })}
      />
      <ColorBar quantity={quantity} stated={stated} />
      <fieldset className="choice" aria-label="how near">
        <button type="button" aria-label="farther" onClick={() => look(zoomed(view, whole, 1 / 1.5, spot))}>
          −
        </button>
        <button type="button" onClick={() => look(whole)}>
          whole wall
        </button>
        <button type="button" aria-label="nearer" onClick={() => look(zoomed(view, whole, 1.5, spot))}>
          +
        </button>
      </fieldset>
      {children}
    </div>
  )
}

interface ChoiceProps<T extends string> {
  readonly of: string
  readonly all: readonly T[]
  readonly chosen: T
  choose(one: T): void
  /** what they are called, where not by their own names */
  readonly words?: Readonly<Record<T, string>>
}

/** Before the signal is turned, lift-off lies along neither axis. */
const axisWords: Readonly<Record<Quantity, string>> = { 'across lift-off': 'y', 'along lift-off': 'x', size: 'size' }

function Choice<T extends string>({ of, all, chosen, choose, words }: ChoiceProps<T>) {
  return (
    <fieldset className="choice" aria-label={of}>
      {all.map((one) => (
        <button key={one} type="button" aria-pressed={one === chosen} onClick={() => choose(one)}>
          {words === undefined ? one : words[one]}
        </button>
      ))}
    </fieldset>
  )
}

/** The colors of the map, with the values at their ends. */
function ColorBar({ quantity, stated: { unit, scale } }: Pick<ToolbarProps, 'quantity' | 'stated'>) {
  const isDark = useDark()
  const isSigned = quantity !== 'size'
  const end = unit === 'notch' ? `${Math.round(100 * scale)} %` : scale.toPrecision(2)
  const words = unit === 'notch' ? `${end} of the notch` : `${end} as recorded`
  return (
    <span
      className="color-bar"
      role="img"
      aria-label={isSigned ? `colors from minus to plus ${words}` : `colors from none to ${words}`}
    >
      <span>{isSigned ? `−${end}` : '0'}</span>
      <span className="ramp" style={{ background: barOf(tableOf(quantity, isDark)) }} />
      <span>{isSigned ? `+${end}` : end}</span>
    </span>
  )
}
