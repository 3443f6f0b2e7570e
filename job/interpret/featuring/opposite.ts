import { UNIT } from '../../signal/index.ts'
import type { Sheet } from '../sheet.ts'
import { elementOf } from './loop.ts'
import type { Complex } from './metric.ts'
import type { Ridge } from './ridge.ts'
import type { NotchShape } from './shape.ts'

/** Lobe spacings to both sides in which what a place is the side lobe of would lie, and revolutions that are joined. */
const REACH = 2.5
const BESIDE = 1

export interface Opposite {
  /** size of the opposite answer over the place's own */
  readonly ratio: number
  /** ruler point of it on the place's own revolution */
  readonly at: number
}

/**
 * Largest answer of the opposite order beside a place, over its own: a mean over its own and the neighboring strong
 * revolutions, along the run. A lone notch answers oppositely by about half of its size on both sides; a place that is
 * itself the side lobe of something has more than its own size beside it.
 */
export function oppositeOf(
  sheet: Sheet,
  { rows, peak, first, last }: Ridge,
  { weights, spacing }: { readonly weights: Complex; readonly spacing: number }
): Opposite {
  const { at } = rows[peak]!
  const near = rows.slice(Math.max(first, peak - BESIDE), Math.min(last, peak + BESIDE) + 1)
  const own = near.reduce((sum, { size }) => sum + size, 0)
  if (!(own > 0)) return { ratio: 0, at }
  const reach = Math.min(Math.round((REACH * spacing) / sheet.step), Math.floor(UNIT / sheet.step / 2))
  const middles = near.map((row) => Math.round(elementOf(sheet, row.at)))
  let least = 0
  let where = 0
  for (let k = -reach; k <= reach; k++) {
    let sum = 0
    for (const middle of middles) {
      const i = middle + k
      if (i >= 0 && i < sheet.length) sum += weights.x * sheet.cx[i]! + weights.y * sheet.cy[i]!
    }
    if (sum < least) {
      least = sum
      where = k
    }
  }
  return { ratio: -least / own, at: at + where * sheet.step }
}

/**
 * Whether a place is no more than the side lobe of what lies opposite to it: as strong as the notch's own shape answers
 * at that distance, with some freedom, since a crack's form is not the notch's and the band rings.
 */
export function isSideLobe(
  { ratio, at }: Opposite,
  own: number,
  { shape, freedom }: { readonly shape: NotchShape; readonly freedom: number }
): boolean {
  return ratio > 1 && 1 <= -freedom * ratio * selfAnswer(shape, Math.round(Math.abs(at - own)))
}

/** Autocorrelation of the shape at a lag in ruler points over that at 0. */
function selfAnswer({ along }: NotchShape, lag: number): number {
  let own = 0
  let sum = 0
  for (let i = 0; i < along.length; i++) {
    own += along[i]! * along[i]!
    if (i >= lag) sum += along[i]! * along[i - lag]!
  }
  return own > 0 ? sum / own : 0
}
