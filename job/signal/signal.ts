/** How far a signal has come, and along what it runs. */
export type State = 'recorded' | 'placed' | 'conditioned' | 'standardized' | 'fitted'
export type Axis = 'time' | 'angle' | 'position'

/**
 * A stretch of complex signal on one axis. `first` is the ruler number (or sample number on the time axis) of element 0.
 * The type carries state and axis, so that conditioning a time signal or finding indications in raw volts does not
 * compile.
 */
export interface Signal<S extends State, A extends Axis> {
  readonly state: S
  readonly axis: A
  readonly first: number
  readonly x: Float64Array
  readonly y: Float64Array
}

/** A factor in the complex plane: turns and scales. */
export interface Turn {
  readonly x: number
  readonly y: number
}

/** Turns and scales a conditioned signal into standardized units: 1 = the named notch, lift-off to −x. */
export function standardized<A extends Axis>(signal: Signal<'conditioned', A>, turn: Turn): Signal<'standardized', A> {
  const { x, y } = signal
  const both = new Float64Array(2 * x.length)
  const outX = both.subarray(0, x.length)
  const outY = both.subarray(x.length)
  for (let i = 0; i < x.length; i++) {
    outX[i] = x[i]! * turn.x - y[i]! * turn.y
    outY[i] = x[i]! * turn.y + y[i]! * turn.x
  }
  return { state: 'standardized', axis: signal.axis, first: signal.first, x: outX, y: outY }
}
