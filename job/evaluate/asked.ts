import type { Fits } from './fits.ts'
import type { KindName } from './kinds.ts'
import type { NotchLaw } from './law.ts'
import type { Sizing } from './parameters.ts'
import type { Turn } from './turn.ts'

/**
 * Inverse prediction in the plane of depth and length: which flaws the amplitude, the angle and the extent along the axis
 * do not contradict. Each place of the plane has its likelihood (normal scatter): the rows seen through the footprint,
 * the size over the middle against the law of the notches, x/y against their turn, and the proportions of the flaw against
 * those of its kind with a wide spread, which decides only where the flaw is shorter than the footprint. Depth is then
 * what is left when length is summed over; all depths of like ratio weigh alike before anything is measured.
 */
export interface Plane {
  readonly kind: KindName
  readonly law: NotchLaw
  /** what the law weighs beside those of other forms, and the kind beside the other */
  readonly weight: number
  readonly turn: Turn | undefined
  readonly behind: Fits
  readonly width_mm: number
  /** length over depth of the notches of the kind, geometric mean */
  readonly aspect: number
  /** deviation of its logarithm among them */
  readonly aspectSpread: number
}

/** How a crack answers compared with a notch of its size; 1 and 0 for a notch. */
export interface Answering {
  readonly ratio: number
  readonly variance: number
}

export interface Asked {
  readonly answering: Answering
  readonly deepest_mm: number
  readonly numbers: Sizing
}
