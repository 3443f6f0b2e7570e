import { TAU } from '@trueloop/ground/numerics'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { FieldsCode } from '../codes.ts'
import { standardDepth } from '../depth.ts'
import { gridOf, insideOf } from './cells.ts'
import { crackComplaint } from './complaints.ts'
import type { CrackInPart } from './crack.ts'
import { type CellGrid, dipoleTable } from './dipole.kernel.ts'
import { factorSymmetric, type SymmetricFactor } from './factor.kernel.ts'
import { type CellTables, cellMatrix, type Parity } from './matrix.kernel.ts'
import { type Diffusing, surfaceTable } from './surface.kernel.ts'

/** A crack that is ready for any coil at any place. */
export interface CrackPlan {
  readonly part: CrackInPart
  readonly grid: CellGrid
  /** 1 where a cell belongs to the crack, [cell along * deep + row]. */
  readonly inside: Uint8Array
  readonly metal: Diffusing
  /** An even and an odd one where the crack is alike on both sides, else one. */
  readonly blocks: readonly CrackBlock[]
}

export interface CrackBlock {
  readonly parity: Parity
  /** Numbers of its cells; with a parity, those of the half at negative places. */
  readonly cells: Int32Array
  readonly factor: SymmetricFactor
}

/**
 * A crack without thickness that lets no current through, in the plane across = 0 of a half-space: a layer of current
 * dipoles p (A) lies on it, so that the field that drives it is canceled, E + E_p = 0 at the middle of each cell, with
 * E_p = -(1/sigma) (d^2/dy^2 + d^2/dz^2) integral of (G0 + G_image) p dS + integral of K p dS.
 * The matrix knows neither coil nor place: it is factored once.
 * Holds for plates of at least 3 depths of penetration with 2 of them below the crack. Refuses: as crackComplaint.
 * source: bowler-1994
 */
export function planCrack(part: CrackInPart): Result<CrackPlan, FieldsCode> {
  const bad = crackComplaint(part)
  if (bad !== undefined) return bad
  const delta = standardDepth(part.frequency, part.metal)
  if (isRefusal(delta)) return delta
  const grid = gridOf(part)
  const metal = { omega: TAU * part.frequency, ...part.metal }
  const tables = {
    grid,
    dipole: dipoleTable(grid, delta),
    surface: surfaceTable(grid, metal),
    conductivity: part.metal.conductivity
  }
  const inside = insideOf(part.crack.outline, grid)
  return { part, grid, inside, metal, blocks: blocksOf(part, inside, tables) }
}

function blocksOf({ crack, cells }: CrackInPart, inside: Uint8Array, tables: CellTables): CrackBlock[] {
  const isLopsided = crack.outline === 'quarter ellipse'
  const half = isLopsided ? inside.length : 0.5 * cells.along * cells.deep
  const numbers = Int32Array.from(inside.keys()).filter((at) => at < half && inside[at] === 1)
  const parities: readonly Parity[] = isLopsided ? [0] : [1, -1]
  return parities.map((parity) => {
    const factor = cellMatrix(numbers, parity, tables)
    factorSymmetric(factor)
    return { parity, cells: numbers, factor }
  })
}
