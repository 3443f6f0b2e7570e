import type { Quantity } from '@trueloop/ground/quantity'
import type { Metal } from '../depth.ts'

/** A crack square to the surface: its length along the surface and its largest depth, m. */
export interface SurfaceCrack {
  /** A quarter ellipse is deepest at its end at -length / 2; the edge of the part that it starts from is not modeled. */
  readonly outline: 'rectangle' | 'half ellipse' | 'quarter ellipse'
  readonly length: Quantity<'m'>
  readonly depth: Quantity<'m'>
  /** Width of the gap; 0 is a closed crack that still lets no current through. */
  readonly opening: Quantity<'m'>
}

/** A crack in a flat part, and into how many cells its length and depth are cut. */
export interface CrackInPart {
  readonly crack: SurfaceCrack
  readonly metal: Metal
  readonly thickness: Quantity<'m'> | 'infinite'
  readonly frequency: Quantity<'Hz'>
  readonly cells: { readonly along: number; readonly deep: number }
}

/** Where the axis of the coil stands: across the crack plane and along the crack, from the middle of its length. */
export interface CoilPlace {
  readonly across: Quantity<'m'>
  readonly along: Quantity<'m'>
}
