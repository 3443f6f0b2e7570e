import type { Spot } from '../wall/depth-axis.ts'
import type { Quantity } from '../wall/map-image.ts'
import { type View, zoomed } from './view.ts'

interface ToolbarProps {
  readonly quantity: Quantity
  setQuantity(quantity: Quantity): void
  readonly view: View
  readonly whole: View
  readonly spot: Spot
  look(view: View): void
}

const quantities: readonly Quantity[] = ['across lift-off', 'along lift-off', 'size']

/** What the map shows, and how near. */
export function Toolbar({ quantity, setQuantity, view, whole, spot, look }: ToolbarProps) {
  return (
    <div className="toolbar">
      <fieldset className="choice" aria-label="what the map shows">
        {quantities.map((one) => (
          <button key={one} type="button" aria-pressed={one === quantity} onClick={() => setQuantity(one)}>
            {one}
          </button>
        ))}
      </fieldset>
      <ColorBar quantity={quantity} />
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
    </div>
  )
}

/** The colors of the map, with the values at their ends. */
function ColorBar({ quantity }: Pick<ToolbarProps, 'quantity'>) {
  const isSigned = quantity !== 'size'
  return (
    <span
      className="color-bar"
      role="img"
      aria-label={isSigned ? 'colors from minus to plus half of the notch' : 'colors from none to half of the notch'}
    >
      <span>{isSigned ? '−50 %' : '0 %'}</span>
      <span className={isSigned ? 'ramp signed' : 'ramp amount'} />
      <span>{isSigned ? '+50 %' : '50 %'}</span>
    </span>
  )
}
