import type { WallSignal } from './wall.ts'

/** What the signal has been through, in its order: the same words as in the program. */
export const signalStates = ['recorded', 'conditioned', 'standardized'] as const
export type SignalState = (typeof signalStates)[number]

/** A wall in a state, with what its figures mean. */
export interface StatedWall {
  readonly wall: WallSignal
  readonly state: SignalState
  /** "notch": 1 = the named notch from peak to peak; else as the instrument gave it */
  readonly unit: 'notch' | 'recorded'
  /** swing at the ends of the color table */
  readonly scale: number
  /** where lift-off points: a direction of length 1 */
  readonly liftOff: Turn
}

/** Half of the named notch's amplitude from peak to peak: its own swing to one side. */
export const notchSwing = 0.5

export const standardized = (wall: WallSignal): StatedWall => ({
  wall,
  state: 'standardized',
  unit: 'notch',
  scale: notchSwing,
  liftOff: { x: -1, y: 0 }
})

export interface Turn {
  readonly x: number
  readonly y: number
}

/** Complex division: takes a standardized value back to recorded units. */
export function unturned({ x, y }: Turn, re: number, im: number): readonly [number, number] {
  const size = x * x + y * y
  return [(re * x + im * y) / size, (im * x - re * y) / size]
}

/** After `turn` lift-off points to −x; before it, there. */
function liftOffBefore(turn: Turn): Turn {
  const [x, y] = unturned(turn, -1, 0)
  const size = Math.hypot(x, y)
  return { x: x / size, y: y / size }
}

/** The same signal before it was standardized: in the band, in recorded units, turned back. */
export function conditioned(wall: WallSignal, turn: Turn): StatedWall {
  const x = new Float32Array(wall.x.length)
  const y = new Float32Array(wall.y.length)
  for (let i = 0; i < x.length; i++) [x[i], y[i]] = unturned(turn, wall.x[i]!, wall.y[i]!) as [number, number]
  return {
    wall: { ...wall, x, y },
    state: 'conditioned',
    unit: 'recorded',
    scale: notchSwing / Math.hypot(turn.x, turn.y),
    liftOff: liftOffBefore(turn)
  }
}

/** As recorded and placed by angle, about its middle level: where a balanced probe on the wall stands. */
export function recorded(placed: WallSignal, turn: Turn): StatedWall {
  const level = { x: median(placed.x), y: median(placed.y) }
  const x = placed.x.map((value) => value - level.x)
  const y = placed.y.map((value) => value - level.y)
  return {
    wall: { ...placed, x, y },
    state: 'recorded',
    unit: 'recorded',
    scale: notchSwing / Math.hypot(turn.x, turn.y),
    liftOff: liftOffBefore(turn)
  }
}

function median(values: Float32Array): number {
  const there = values.filter((value) => !Number.isNaN(value)).sort()
  return there[Math.floor(there.length / 2)] ?? 0
}
