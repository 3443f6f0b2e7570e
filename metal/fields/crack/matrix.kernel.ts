import { type CellGrid, type ComplexTable, complexTable } from './dipole.kernel.ts'
import type { SymmetricFactor } from './factor.kernel.ts'

/** Field of a cell on another as tables over how far they are apart and how deep both lie. */
export interface CellTables {
  readonly dipole: ComplexTable
  readonly surface: ComplexTable
  readonly grid: CellGrid
  /** S/m. */
  readonly conductivity: number
}

/** What an answer has under a mirror at the middle of the crack: even, odd, or nothing that could be used. */
export type Parity = 1 | -1 | 0

/**
 * Lower triangle of the matrix of the given cells, [row * size + column]: direct field and image by -1 / sigma, and the
 * surface. With a parity the cells are one half of a crack alike on both sides, and the other half is added with its sign:
 * two matrices of half the size say the same as one.
 */
export function cellMatrix(cells: Int32Array, parity: Parity, tables: CellTables): SymmetricFactor {
  const size = cells.length
  const { along, deep } = tables.grid
  const { re, im } = complexTable(size * size)
  const folded = foldedTable(tables)
  const columns = cells.map((cell) => Math.floor(cell / deep))
  const rows = cells.map((cell) => cell % deep)
  for (let i = 0; i < size; i++) {
    const y = columns[i]!
    const z = rows[i]! * deep
    for (let k = 0; k <= i; k++) {
      const yy = columns[k]!
      const at = Math.abs(y - yy) * deep * deep + z + rows[k]!
      const across = parity === 0 ? at : (along - 1 - y - yy) * deep * deep + z + rows[k]!
      const to = i * size + k
      re[to] = folded.re[at]! + parity * folded.re[across]!
      im[to] = folded.im[at]! + parity * folded.im[across]!
    }
  }
  return { size, re, im }
}

/** [cells apart along, row, other row]. */
function foldedTable({ dipole, surface, grid, conductivity }: CellTables): ComplexTable {
  const { along, deep } = grid
  const rows = 2 * deep + 1
  const table = complexTable(along * deep * deep)
  for (let m = 0; m < along; m++) {
    for (let z = 0; z < deep; z++) {
      for (let zz = 0; zz < deep; zz++) {
        const to = (m * deep + z) * deep + zz
        const direct = m * rows + Math.abs(z - zz)
        const image = m * rows + z + zz + 1
        const top = (z + zz) * along + m
        table.re[to] = -(dipole.re[direct]! + dipole.re[image]!) / conductivity + surface.re[top]!
        table.im[to] = -(dipole.im[direct]! + dipole.im[image]!) / conductivity + surface.im[top]!
      }
    }
  }
  return table
}
