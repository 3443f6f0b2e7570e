import type { Refusal } from '@trueloop/ground/refusal'
import { refuse } from '../codes.ts'
import type { PermittedSize, ReamRules } from '../reaming.ts'
import type { Hole, HoleSheet } from '../sheet.ts'
import { pathText } from '../where.ts'

/** Sizes in their order and below the largest diameter; edges and neighbors outside the hole itself. */
export const checkReaming = ({ technique, holes }: HoleSheet): readonly Refusal[] => [
  ...(technique.reaming === undefined ? [] : checkSizes(technique.reaming)),
  ...holes.flatMap(checkDistances)
]

const checkSizes = ({ permitted_sizes_mm: sizes, max_diameter_mm: most }: ReamRules): readonly Refusal[] =>
  sizes.flatMap((size, at) => {
    const why = againstSize(size, sizes[at - 1], most)
    if (why === undefined) return []
    return [
      refuse('plan/bad-value', {
        found: `a permitted size of ${size.diameter_mm} mm`,
        needed: why,
        remedy: 'correct permitted_sizes_mm or max_diameter_mm by the procedure',
        where: { path: pathText(['technique', 'reaming', 'permitted_sizes_mm', at]) }
      })
    ]
  })

function againstSize({ diameter_mm }: PermittedSize, before: PermittedSize | undefined, most: number) {
  if (before !== undefined && diameter_mm <= before.diameter_mm)
    return `a size above the one before it, ${before.diameter_mm} mm`
  return diameter_mm > most ? `a size of at most max_diameter_mm, ${most} mm` : undefined
}

const checkDistances = (hole: Hole, index: number): readonly Refusal[] =>
  (['edge_distance_mm', 'nearest_hole_mm'] as const).flatMap((key) => {
    const distance = hole[key]
    if (distance === undefined || distance > hole.diameter_mm / 2) return []
    return [
      refuse('plan/bad-value', {
        found: `${distance} mm from the center of a hole of ${hole.diameter_mm} mm`,
        needed: 'a place outside the hole itself: the distance counts from its center',
        remedy: `correct ${key} or diameter_mm`,
        where: { path: pathText(['holes', index, key]) }
      })
    ]
  })
