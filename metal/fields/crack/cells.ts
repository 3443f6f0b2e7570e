import type { Refusal } from '@trueloop/ground/refusal'
import { type FieldsCode, refuse } from '../codes.ts'
import type { CrackInPart, SurfaceCrack } from './crack.ts'
import type { CellGrid } from './dipole.kernel.ts'

const FEWEST = { along: 4, deep: 3 }
/** Two matrices of half of them take 64 MB. */
const MOST = 4000
/** Longer cells would need more points on their sides. */
const LONGEST = 3
/** The term of the opening grows like a logarithm as cells get finer; the opening itself is where that ends. */
const FINEST = 0.5

/**
 * Refuses: fields/bad-cells, fields/cells-too-large, fields/cells-too-small.
 */
export function cellComplaint(part: CrackInPart, delta: number): Refusal<FieldsCode> | undefined {
  const { along, deep } = part.cells
  const { width, height } = gridOf(part)
  const [least, most] = [Math.min(width, height), Math.max(width, height)]
  const isCut = Number.isInteger(along / 2) && Number.isInteger(deep) && along >= FEWEST.along && deep >= FEWEST.deep
  if (!isCut || along * deep > MOST || most > LONGEST * least) return badCells(part)
  if (most > delta) return tooLarge(most, delta)
  return least < FINEST * part.crack.opening ? tooSmall(least, part.crack) : undefined
}

const badCells = (part: CrackInPart): Refusal<FieldsCode> =>
  refuse('fields/bad-cells', {
    found: `${part.cells.along} by ${part.cells.deep} cells of ${gridOf(part).width} m by ${gridOf(part).height} m`,
    needed: `an even number along, at least ${FEWEST.along} by ${FEWEST.deep}, at most ${MOST} in all, no side above ${LONGEST} times the other`,
    remedy: 'choose numbers in the ratio of length to depth; 40 by 20 does for a crack twice as long as deep'
  })

const tooLarge = (most: number, delta: number): Refusal<FieldsCode> =>
  refuse('fields/cells-too-large', {
    found: `cells of ${most} m at a depth of penetration of ${delta} m`,
    needed: 'cells no larger than the depth of penetration',
    remedy: 'use more cells or a lower frequency'
  })

const tooSmall = (least: number, { opening }: SurfaceCrack): Refusal<FieldsCode> =>
  refuse('fields/cells-too-small', {
    found: `cells of ${least} m for an opening of ${opening} m`,
    needed: 'cells of at least half the opening: near the edge of the crack they stand for its width',
    remedy: 'use fewer cells or a narrower opening'
  })

export const gridOf = ({ crack, cells }: Pick<CrackInPart, 'crack' | 'cells'>): CellGrid => ({
  ...cells,
  width: crack.length / cells.along,
  height: crack.depth / cells.deep
})

/**
 * Which cells belong to the crack, [cell along * deep + row]: those with their middle inside its outline. The steps that
 * this makes of an ellipse don't show beside the size of the cells: 40 by 20 cells were within 1.6 % of 80 by 40, 24 by 12
 * within 3.3 %, a rectangle within 1.5 % and 3.6 % (coil as wide as the crack; cells of 0.23 and 0.38 depths of penetration).
 */
export function insideOf(outline: SurfaceCrack['outline'], { along, deep }: CellGrid): Uint8Array {
  const inside = new Uint8Array(along * deep).fill(1)
  if (outline === 'rectangle') return inside
  for (let at = 0; at < inside.length; at++) {
    const z = ((at % deep) + 0.5) / deep
    const part = (Math.floor(at / deep) + 0.5) / along
    const y = outline === 'half ellipse' ? 2 * part - 1 : part
    inside[at] = y * y + z * z <= 1 ? 1 : 0
  }
  return inside
}
