import type { PermittedSize } from '../../plan/index.ts'
import { toNanometer } from './diameters.ts'
import type { Ground } from './ground.ts'
import { type Margin, marginsAt, marginText } from './margins.ts'

/** A permitted size and the ends of its tolerance. */
export interface Limits {
  readonly diameter_mm: number
  readonly least_mm: number
  readonly greatest_mm: number
}

/** One permitted size held against what is needed and what is allowed. */
export interface SizeTried extends Limits {
  /** at its largest diameter */
  readonly margins: readonly Margin[]
  /** what speaks against it, in words; empty where it fits */
  readonly against: readonly string[]
}

export interface Needed {
  readonly required_mm: number
  /** how many cuts it then has been, this one counted */
  readonly cuts: number
  /** least further increase that must still fit after it, where the procedure asks for one */
  readonly further_mm?: number
}

/** Without a stated tolerance a size is its diameter alone. */
export const limitsOf = ({ diameter_mm, under_mm = 0, over_mm = 0 }: PermittedSize): Limits => ({
  diameter_mm,
  least_mm: toNanometer(diameter_mm - under_mm),
  greatest_mm: toNanometer(diameter_mm + over_mm)
})

/** All permitted sizes, the smallest first. */
export const sizesTried = (ground: Ground, needed: Needed): readonly SizeTried[] =>
  ground.rules.permitted_sizes_mm.map((size) => tried(limitsOf(size), ground, needed))

/** The smallest permitted size that fits. */
export const smallestFitting = (sizes: readonly SizeTried[]): SizeTried | undefined =>
  sizes.find(({ against }) => against.length === 0)

/** The size that fits a further cut after this one. */
export function sizeAfter(size: Limits, ground: Ground, { cuts, further_mm = 0 }: Needed): SizeTried | undefined {
  const required_mm = toNanometer(size.greatest_mm + further_mm)
  return smallestFitting(sizesTried(ground, { required_mm, cuts: cuts + 1 }))
}

function tried(size: Limits, ground: Ground, needed: Needed): SizeTried {
  const margins = marginsAt(size.greatest_mm, ground, needed.cuts)
  const own = [
    ...againstDiameter(size, ground, needed),
    ...margins.filter(({ holds }) => !holds).map((margin) => marginText(margin))
  ]
  return { ...size, margins, against: own.length > 0 ? own : againstFurther(size, ground, needed) }
}

function againstDiameter({ least_mm, greatest_mm }: Limits, { rules }: Ground, { required_mm }: Needed) {
  const { max_diameter_mm: most } = rules
  return [
    ...(least_mm < required_mm ? [`may be ${least_mm} mm, below the ${required_mm} mm needed`] : []),
    ...(greatest_mm > most ? [`may be ${greatest_mm} mm, above the largest diameter permitted, ${most} mm`] : [])
  ]
}

function againstFurther(size: Limits, ground: Ground, needed: Needed): readonly string[] {
  if (needed.further_mm === undefined || sizeAfter(size, ground, needed) !== undefined) return []
  return [`no permitted size fits the further cut of ${needed.further_mm} mm that the procedure asks for after it`]
}
