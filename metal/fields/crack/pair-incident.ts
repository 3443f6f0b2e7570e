import { atan2, cos, exp, expm1, sin } from '@trueloop/ground/numerics'
import type { Quantity } from '@trueloop/ground/quantity'
import type { PlacedCoil } from '../layers/coil.ts'
import { waveNumbers } from '../layers/grid.ts'
import type { CoilPlace } from './crack.ts'
import type { ComplexTable } from './dipole.kernel.ts'
import { type CrackField, fieldFor } from './field.ts'
import { CUT, depthSpectrum, interpolation, PHASE, POINTS, pieceRadii } from './incident.kernel.ts'
import { farthestOf, middleOf, pieceLength } from './incident.ts'
import { addColumn, HARMONICS, pairShares, pairTable } from './pair.kernel.ts'
import type { CrackPlan } from './plan.ts'

/** Pick-ups of half-round outline side by side, wound against each other; radii are those of the round outline. */
export interface PickUpPair extends PlacedCoil {
  /** From the direction across the crack to the direction from the second half to the first, turned toward along. */
  readonly turned: Quantity<'rad'>
}

/**
 * Field of a pair on the crack plane, as if it carried the current. A plane winding is a sheet of upright dipoles; of its potential
 * psi = (mu0 / 2) sum of a_n cos n(phi - phi0) integral of T Z S_n J_n(k r) exp(g z) dk, T = 2 k / (k + g / mur),
 * Z = (N / l) (exp(-k h) - exp(-k (h + l))) / k, E_x = -j omega d psi / dy
 * = -j omega sum of [U_(n-1) sin(phi - n (phi - phi0)) - U_(n+1) sin(phi + n (phi - phi0))], U as at pairTable. Derived here;
 * n = 0 gives the coil of dodd-deeds-1968.
 */
export function pairField(plan: CrackPlan, pair: PickUpPair, places: readonly CoilPlace[]): CrackField {
  const { grid, metal } = plan
  const piece = pieceLength(pair, grid)
  const radii = pieceRadii(farthestOf(grid, places), piece)
  const table = tableFor(plan, pair, radii)
  const field = fieldFor(plan, places.length * grid.along * grid.deep)
  const weights = new Float64Array(POINTS)
  const turns = new Float64Array(2 * HARMONICS)
  places.forEach((place, at) => {
    for (let m = 0; m < grid.along; m++) {
      const y = middleOf(grid, m) - place.along
      const radius = Math.sqrt(place.across * place.across + y * y)
      const phi = atan2(y, -place.across)
      const start = interpolation(radius, radii, piece, weights)
      const column = { start, weights, turns, omega: metal.omega, to: (at * grid.along + m) * grid.deep }
      turnsAcross(phi, pair.turned, turns)
      addColumn({ table, deep: grid.deep }, column, field.square)
      if (field.along === undefined) continue
      turnsAlong(phi, pair.turned, turns)
      addColumn({ table, deep: grid.deep }, column, field.along)
    }
  })
  return field
}

function tableFor({ grid, metal }: CrackPlan, pair: PickUpPair, radii: Float64Array): ComplexTable {
  const farthest = radii.reduce((most, r) => Math.max(most, r), 0)
  const rule = waveNumbers(PHASE / (farthest + pair.coil.outerRadius), CUT / pair.liftOff)
  const depth = depthSpectrum(heightShares(rule.nodes, pair), { rule, grid, metal })
  return pairTable(radii, { k: rule.nodes, shares: pairShares(rule.nodes, pair.coil) }, depth)
}

/** Z of a winding of evenly spread turns, m. */
const heightShares = (k: Float64Array, { coil, liftOff }: PlacedCoil): Float64Array =>
  k.map((a) => (-coil.turns * exp(-a * liftOff) * expm1(-a * coil.length)) / (coil.length * a))

/** What U_(n-1) and U_(n+1) of each harmonic count for in E_x, seen under the angle phi. */
function turnsAcross(phi: number, turned: number, turns: Float64Array): void {
  for (let h = 0; h < HARMONICS; h++) {
    const around = (2 * h + 1) * (phi - turned)
    turns[2 * h] = sin(phi - around)
    turns[2 * h + 1] = -sin(phi + around)
  }
}

/** The same in E_y = j omega d psi / dx. */
function turnsAlong(phi: number, turned: number, turns: Float64Array): void {
  for (let h = 0; h < HARMONICS; h++) {
    const around = (2 * h + 1) * (phi - turned)
    turns[2 * h] = -cos(phi - around)
    turns[2 * h + 1] = cos(phi + around)
  }
}
