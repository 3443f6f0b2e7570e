import { type ComplexTable, complexTable } from './dipole.kernel.ts'
import type { CrackPlan } from './plan.ts'

/** Field of a coil on the crack plane in the middle of each cell for unit current, V/m, [place, cell along, row]. */
export interface CrackField {
  readonly square: ComplexTable
  /** Along the crack; only an opening asks for it, and only beside the plane. A field into the depth is not in it. */
  readonly along?: ComplexTable
}

export const fieldFor = ({ part }: CrackPlan, size: number): CrackField =>
  part.crack.opening === 0 ? { square: complexTable(size) } : { square: complexTable(size), along: complexTable(size) }
