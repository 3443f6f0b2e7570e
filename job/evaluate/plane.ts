import type { Asked, Plane } from './asked.ts'
import { contradict, surelyAgree } from './disagreement.ts'
import { quantileOf } from './picks.ts'
import { sweep } from './sweep.ts'
import { depthGrid, type Grid, tableOf, withoutAngle } from './table.ts'

export interface Depths {
  readonly depth_mm: number
  readonly lower_mm: number
  readonly upper_mm: number
  /** whether the angle was used, and whether it contradicted the amplitude */
  readonly turn: 'used' | 'contradicts' | 'none'
}

/** Depth from one or several planes of equal standing (near a face a flaw may be of either kind). */
export function depthsIn(planes: readonly Plane[], asked: Asked): Depths {
  const grid = depthGrid(asked.deepest_mm)
  const { turn, sums } = sumsIn(planes, grid, asked)
  const tail = 0.5 * asked.numbers.leftOut
  const at = (share: number) => quantileOf(grid.depths_mm, sums, share)
  return { depth_mm: at(0.5), lower_mm: at(tail), upper_mm: at(1 - tail), turn }
}

/** Likelihoods by depth: with the angle where all planes have a turn and not each of them contradicts it. */
function sumsIn(planes: readonly Plane[], grid: Grid, asked: Asked): Pick<Depths, 'turn'> & { sums: Float64Array } {
  const both = planes.map((plane) => tableOf(plane, grid, asked))
  if (planes.some(({ turn }) => turn === undefined)) return { turn: 'none', sums: sweep(both.map(withoutAngle)).sums }
  const { sums, leasts } = sweep(both)
  const most = asked.numbers.disagreement
  if (surelyAgree(both, leasts, most)) return { turn: 'used', sums }
  const amplitude = both.map(withoutAngle)
  const alone = sweep(amplitude)
  const contradicted = contradict({ both, leasts }, { amplitude, leasts: alone.leasts }, most)
  return contradicted ? { turn: 'contradicts', sums: alone.sums } : { turn: 'used', sums }
}
