import { cos, sin } from '@trueloop/ground/numerics'

/** Where a pick-up is: angle of the wall (turns), depth (m), turns of the probe since the start, time (s). */
export interface Place {
  wall: number
  z: number
  turn: number
  time: number
}

/** A point of the complex plane that contributions are added to. */
export interface Sum {
  x: number
  y: number
}

/** One contribution to the signal: a continuous function of the place, added to `sum`. */
export type Term = (at: Place, sum: Sum) => void

/** A real contribution along one direction of the plane. */
export function along(direction_rad: number, value: (at: Place) => number): Term {
  const ux = cos(direction_rad)
  const uy = sin(direction_rad)
  return (at, sum) => {
    const size = value(at)
    sum.x += size * ux
    sum.y += size * uy
  }
}
