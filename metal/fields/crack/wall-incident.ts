import { placesOf } from '../hole/coil.ts'
import { fieldInWall, type WallProbe } from '../hole/wall-probe.ts'
import { MU0 } from '../vacuum.ts'
import { type ComplexTable, complexTable } from './dipole.kernel.ts'
import type { CrackField } from './field.ts'
import { interpolation, POINTS, pieceRadii } from './incident.kernel.ts'
import type { WallCrackPlan, WallPlace } from './wall-crack.ts'

/** Field of a coil in a hole on one crack plane, for some angles between them, at points along the hole. */
export interface WallTable {
  /** From the axis of the coil, m; in pieces of this length. */
  readonly along: Float64Array
  readonly piece: number
  /** Numbers of the angles in the table; angles are given without sign. */
  readonly angles: ReadonlyMap<number, number>
  /** [along, row, angle], V/m. */
  readonly field: ComplexTable
}

/** The table that the places need: the field is alike on both sides of the coil around the hole, and opposite along it. */
export function wallTable(plan: WallCrackPlan, probe: WallProbe, places: readonly WallPlace[]): WallTable {
  const { grid, metal } = plan
  const farthest =
    places.reduce((most, { along }) => Math.max(most, Math.abs(along)), 0) + 0.5 * grid.along * grid.width
  const piece = pieceLength(probe, grid.height)
  const along = pieceRadii(farthest, piece)
  const distinct = [...new Set(places.map(({ angle }) => Math.abs(angle)))]
  const depths = Float64Array.from({ length: grid.deep }, (_, row) => (row + 0.5) * grid.height)
  const diffusion = metal.omega * MU0 * metal.permeability * metal.conductivity
  const wall = { ...metal, diffusion, radius: 0.5 * plan.holeDiameter }
  const field = fieldInWall(probe, wall, { along, depths, angles: distinct })
  return { along, piece, angles: new Map(distinct.map((angle, at) => [angle, at])), field }
}

/** Twice the distance of the winding from the uppermost row of cells: so far along the hole the field is smooth. */
function pieceLength({ placed }: WallProbe, height: number): number {
  const { radius, near, far } = placesOf(placed)
  return 2 * (radius - Math.max(near, -far)) + height
}

/** Field around the hole in the middle of each cell for unit current, V/m, [place, cell along, row]. */
export function wallField({ grid }: WallCrackPlan, table: WallTable, places: readonly WallPlace[]): CrackField {
  const { along, piece, angles } = table
  const field = complexTable(places.length * grid.along * grid.deep)
  const weights = new Float64Array(POINTS)
  const step = grid.deep * angles.size
  places.forEach((place, at) => {
    const angle = angles.get(Math.abs(place.angle))!
    for (let m = 0; m < grid.along; m++) {
      const z = (m + 0.5 - 0.5 * grid.along) * grid.width - place.along
      const start = interpolation(Math.abs(z), along, piece, weights)
      const to = (at * grid.along + m) * grid.deep
      for (let row = 0; row < grid.deep; row++) {
        const from = start * step + row * angles.size + angle
        let re = 0
        let im = 0
        for (let k = 0; k < POINTS; k++) {
          re += weights[k]! * table.field.re[from + k * step]!
          im += weights[k]! * table.field.im[from + k * step]!
        }
        field.re[to + row] = z < 0 ? -re : re
        field.im[to + row] = z < 0 ? -im : im
      }
    }
  })
  return { square: field }
}
