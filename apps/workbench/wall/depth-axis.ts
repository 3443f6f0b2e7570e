import type { StoredExamination } from '../asking/client.ts'
import type { WallSignal } from './wall.ts'

type Position = StoredExamination['document']['position']

/**
 * What the rows of a wall mean: depth from the entry face (m) where the edges were seen at an even feed, else revolutions of
 * the ruler. `from` and `to` are the ends of what is shown first.
 */
export interface DepthAxis {
  readonly unit: 'm' | 'revolution'
  readonly from: number
  readonly to: number
  rulerAt(value: number): number
  valueAt(ruler: number): number
}

/** Beyond both faces this share of the grip is shown too: what was scanned in the air says where the faces are. */
const beyond = 0.1

export function depthAxis(wall: WallSignal, { entry, pitch_m }: Position, grip_m: number | undefined): DepthAxis {
  if (entry === undefined || pitch_m === undefined || grip_m === undefined) return byRevolution(wall)
  return {
    unit: 'm',
    from: -beyond * grip_m,
    to: (1 + beyond) * grip_m,
    rulerAt: (value) => entry + value / pitch_m,
    valueAt: (ruler) => (ruler - entry) * pitch_m
  }
}

const byRevolution = ({ rows, rowFrom }: WallSignal): DepthAxis => ({
  unit: 'revolution',
  from: rowFrom,
  to: rowFrom + rows,
  rulerAt: (value) => value,
  valueAt: (ruler) => ruler
})

/** A place on the wall: share of a turn from the index (or the datum), and value on the depth axis. */
export interface Spot {
  readonly turn: number
  readonly depth: number
}

export const wholeTurn = (turn: number): number => turn - Math.floor(turn)

/** Ruler position of the revolution that passes nearest to a spot, at its angle. */
export function rulerOf(axis: DepthAxis, { turn, depth }: Spot): number {
  const share = wholeTurn(turn)
  return Math.round(axis.rulerAt(depth) - share) + share
}
