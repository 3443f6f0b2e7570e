import type { Asked, Plane } from './asked.ts'
import { contradict, surelyAgree } from './disagreement.ts'
import type { KindName } from './kinds.ts'
import { quantileOf } from './picks.ts'
import { type Swept, sweep } from './sweep.ts'
import { depthGrid, type Grid, tablesOf, withoutAngle } from './table.ts'

/** A depth with the ends of its interval. */
export interface Told {
  readonly depth_mm: number
  readonly lower_mm: number
  readonly upper_mm: number
}

export interface Depths {
  /** of a flaw of any proportions */
  readonly any: Told
  /** of one of the notches' proportions, as far as its extent along the axis does not say otherwise */
  readonly like: Told
  /** what each kind weighs, of flaws like the notches */
  readonly kinds: ReadonlyMap<KindName, number>
  /** whether the angle was used, and whether it contradicted the amplitude */
  readonly turn: 'used' | 'contradicts' | 'none'
}

/** Depth from one or several planes (near a face a flaw may be of either kind). */
export function depthsIn(planes: readonly Plane[], asked: Asked): Depths {
  const grid = depthGrid(asked.deepest_mm)
  const { turn, swept } = sweptIn(planes, grid, asked)
  const told = toldIn(grid, asked)
  const kinds = new Map<KindName, number>()
  const sum = swept.shares.reduce((all, one) => all + one, 0)
  for (const [k, { kind }] of planes.entries()) kinds.set(kind, (kinds.get(kind) ?? 0) + swept.shares[k]! / sum)
  return { any: told(swept.any), like: told(swept.like), kinds, turn }
}

const toldIn =
  ({ depths_mm }: Grid, { numbers: { leftOut } }: Asked) =>
  (sums: Float64Array): Told => {
    const at = (share: number) => quantileOf(depths_mm, sums, share)
    return { depth_mm: at(0.5), lower_mm: at(0.5 * leftOut), upper_mm: at(1 - 0.5 * leftOut) }
  }

/** Likelihoods by depth: with the angle where all planes have a turn and not each of them contradicts it. */
function sweptIn(planes: readonly Plane[], grid: Grid, asked: Asked): Pick<Depths, 'turn'> & { swept: Swept } {
  const both = tablesOf(planes, grid, asked)
  if (planes.some(({ turn }) => turn === undefined)) return { turn: 'none', swept: sweep(both.map(withoutAngle)) }
  const swept = sweep(both)
  const most = asked.numbers.disagreement
  if (surelyAgree(both, swept.leasts, most)) return { turn: 'used', swept }
  const amplitude = both.map(withoutAngle)
  const alone = sweep(amplitude)
  const contradicted = contradict({ both, leasts: swept.leasts }, { amplitude, leasts: alone.leasts }, most)
  return contradicted ? { turn: 'contradicts', swept: alone } : { turn: 'used', swept }
}
