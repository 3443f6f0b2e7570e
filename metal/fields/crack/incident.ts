import type { PlacedCoil } from '../layers/coil.ts'
import type { CoilPlace } from './crack.ts'
import { type CellGrid, type ComplexTable, complexTable } from './dipole.kernel.ts'
import { type CrackField, fieldFor } from './field.ts'
import { interpolation, POINTS, pieceRadii, potentialTable } from './incident.kernel.ts'
import type { CrackPlan } from './plan.ts'

/**
 * Field of a coil on the crack plane for unit current: E_x = j omega A(radius, z) (y - y_coil) / radius, and along the crack
 * E_y = -j omega A (x - x_coil) / radius. The potential is interpolated over the radius in pieces as long as the
 * field is smooth.
 */
export function incidentField(plan: CrackPlan, coil: PlacedCoil, places: readonly CoilPlace[]): CrackField {
  const { grid, metal } = plan
  const piece = pieceLength(coil, grid)
  const radii = pieceRadii(farthestOf(grid, places), piece)
  const potential = potentialTable(coil, radii, grid, metal)
  const size = places.length * grid.along * grid.deep
  const field = fieldFor(plan, size)
  const weights = new Float64Array(POINTS)
  const one = complexTable(grid.deep)
  places.forEach(({ across, along }, place) => {
    for (let m = 0; m < grid.along; m++) {
      const y = middleOf(grid, m) - along
      const radius = Math.sqrt(across * across + y * y)
      const start = interpolation(radius, radii, piece, weights)
      weighted(potential, start, weights, one)
      const turn = radius > 0 ? metal.omega / radius : 0
      const at = (place * grid.along + m) * grid.deep
      putColumn(one, turn * y, at, field.square)
      if (field.along !== undefined) putColumn(one, turn * across, at, field.along)
    }
  })
  return field
}

/** j times the column. */
function putColumn(one: ComplexTable, turn: number, at: number, field: ComplexTable): void {
  for (let k = 0; k < one.re.length; k++) {
    field.re[at + k] = -turn * one.im[k]!
    field.im[at + k] = turn * one.re[k]!
  }
}

/** Twice the distance of the winding from the uppermost cells. */
export const pieceLength = ({ liftOff }: PlacedCoil, { height }: CellGrid): number => 2 * liftOff + height

export const middleOf = ({ along, width }: CellGrid, m: number): number => (m + 0.5 - 0.5 * along) * width

export const farthestOf = (grid: CellGrid, places: readonly CoilPlace[]): number =>
  places.reduce<number>((most, { across, along }) => {
    const y = Math.abs(along) + 0.5 * grid.along * grid.width
    return Math.max(most, Math.sqrt(across * across + y * y))
  }, 0)

/** Rows of the table from `start` on, added with their weights. */
function weighted(table: ComplexTable, start: number, weights: Float64Array, sum: ComplexTable): void {
  const deep = sum.re.length
  sum.re.fill(0)
  sum.im.fill(0)
  for (let w = 0; w < weights.length; w++) {
    const from = (start + w) * deep
    for (let k = 0; k < deep; k++) {
      sum.re[k]! += weights[w]! * table.re[from + k]!
      sum.im[k]! += weights[w]! * table.im[from + k]!
    }
  }
}
