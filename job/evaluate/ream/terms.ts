import type { DepthBound } from './bound.ts'
import type { Diameters, Removed } from './diameters.ts'
import type { SizeTried } from './sizes.ts'

/** Everything that a figure was reckoned from, mm. */
export interface ReamTerms {
  /** of a clean-up cut only */
  readonly bound?: DepthBound
  readonly allowance_mm: number
  readonly eccentricity_mm: number
  /** that the procedure asks for once an examination shows no trace */
  readonly further_cut_mm?: number
  readonly measured: Diameters
  readonly increase_mm: number
  readonly required_mm: number
  readonly max_diameter_mm: number
  readonly diameter_class_mm: number
  readonly cuts_so_far: number
  readonly most_cuts?: number
  readonly removed_so_far: Removed
}

/** What is proposed for a cut, with every term. A person decides. */
export interface ReamFigure {
  readonly hole: string
  readonly cut: 'clean-up' | 'further cut'
  readonly proposed: 'next size' | 'refer'
  readonly terms: ReamTerms
  /** every permitted size with what speaks against it */
  readonly sizes: readonly SizeTried[]
  /** the smallest permitted size that fits */
  readonly next?: SizeTried
  /** the size of the further cut that the procedure asks for after it, were it cut to its largest diameter */
  readonly then?: SizeTried
  /** why it is proposed to refer */
  readonly reasons: readonly string[]
  /** the arithmetic line by line, in words */
  readonly lines: readonly string[]
}
