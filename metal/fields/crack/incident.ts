import type { PlacedCoil } from '../layers/coil.ts'
import type { CoilPlace } from './crack.ts'
import { type CellGrid, type ComplexTable, complexTable } from './dipole.kernel.ts'
import { interpolation, POINTS, pieceRadii, potentialTable } from './incident.kernel.ts'
import type { CrackPlan } from './plan.ts'

/**
 * Field of a coil across the crack plane in the middle of each cell for unit current, V/m, [place, cell along, row]:
 * E_x = j omega A(radius, z) (y - y_coil) / radius. The potential is interpolated over the radius in pieces as long as the
 * field is smooth: twice its distance from the winding.
 */
export function incidentField(plan: CrackPlan, coil: PlacedCoil, places: readonly CoilPlace[]): ComplexTable {
  const { grid, metal } = plan
  const piece = 2 * coil.liftOff + grid.height
  const radii = pieceRadii(farthestOf(grid, places), piece)
  const potential = potentialTable(coil, radii, grid, metal)
  const field = complexTable(places.length * grid.along * grid.deep)
  const weights = new Float64Array(POINTS)
  const one = { re: new Float64Array(grid.deep), im: new Float64Array(grid.deep) }
  places.forEach(({ across, along }, place) => {
    for (let m = 0; m < grid.along; m++) {
      const y = middleOf(grid, m) - along
      const radius = Math.sqrt(across * across + y * y)
      const start = interpolation(radius, radii, piece, weights)
      weighted(potential, start, weights, one)
      const turn = radius > 0 ? (metal.omega * y) / radius : 0
      const at = (place * grid.along + m) * grid.deep
      for (let k = 0; k < grid.deep; k++) {
        field.re[at + k] = -turn * one.im[k]!
        field.im[at + k] = turn * one.re[k]!
      }
    }
  })
  return field
}

const middleOf = ({ along, width }: CellGrid, m: number): number => (m + 0.5 - 0.5 * along) * width

const farthestOf = (grid: CellGrid, places: readonly CoilPlace[]): number =>
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
