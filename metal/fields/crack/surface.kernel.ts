import { cos, exp, PI, sin } from '@trueloop/ground/numerics'
import { besselJ01 } from '../bessel.kernel.ts'
import { waveNumbers } from '../layers/grid.ts'
import { MU0 } from '../vacuum.ts'
import { type CellGrid, type ComplexTable, complexTable } from './dipole.kernel.ts'

export interface Diffusing {
  /** omega, rad/s. */
  readonly omega: number
  /** Relative permeability. */
  readonly permeability: number
  /** S/m. */
  readonly conductivity: number
}

/** Phase over a panel that its 24 points integrate to 1e-13. */
const PHASE = 20
/** exp(-28) = 7e-13 of the uppermost row of cells is left out, and the rest of the integrand falls beside it. */
const CUT = 28
const GONE = 1e-18

/**
 * What the surface adds to the field of a cell, beyond its image: the integral over wave numbers k of
 * (j omega mu / 2 pi) k / (g^2 (g / mur + k)) [J1(k s2) - J1(k s1)] [exp(-g z1) - exp(-g z2)], g^2 = k^2 + j omega mu
 * sigma, s from edge to edge of a cell, z = (row + row' + 1/2) to (row + row' + 3/2) heights:
 * [(row + row') * along + cells apart along], V/A. source: bowler-1994
 */
export function surfaceTable(grid: CellGrid, { omega, permeability, conductivity }: Diffusing): ComplexTable {
  const { along, deep, width, height } = grid
  const table = complexTable((2 * deep - 1) * along)
  const { nodes, weights } = waveNumbers(PHASE / ((along + 0.5) * width), (2 * CUT) / height)
  const diffusion = omega * MU0 * permeability * conductivity
  const front = (omega * MU0 * permeability) / (2 * PI)
  const steps = new Float64Array(along)
  const j = new Float64Array(2)
  for (let i = 0; i < nodes.length; i++) {
    const k = nodes[i]!
    const kk = k * k
    const gRe = Math.sqrt(0.5 * (Math.sqrt(kk * kk + diffusion * diffusion) + kk))
    const gIm = (0.5 * diffusion) / gRe
    let before = 0
    for (let m = 0; m < along; m++) {
      besselJ01(k * (m + 0.5) * width, j)
      steps[m] = m === 0 ? 2 * j[1]! : j[1]! - before
      before = j[1]!
    }
    // j front weight k / ((kk + j diffusion) (g / mur + k))
    const pRe = gRe / permeability + k
    const pIm = gIm / permeability
    const qRe = kk * pRe - diffusion * pIm
    const qIm = kk * pIm + diffusion * pRe
    const scale = (front * weights[i]! * k) / (qRe * qRe + qIm * qIm)
    const halfFall = exp(-0.5 * gRe * height)
    const halfRe = halfFall * cos(0.5 * gIm * height)
    const halfIm = -halfFall * sin(0.5 * gIm * height)
    const stepRe = halfRe * halfRe - halfIm * halfIm
    const stepIm = 2 * halfRe * halfIm
    // times exp(-g height / 2) (1 - exp(-g height))
    const eRe = halfRe * (1 - stepRe) + halfIm * stepIm
    const eIm = halfIm * (1 - stepRe) - halfRe * stepIm
    let re = scale * (qIm * eRe - qRe * eIm)
    let im = scale * (qIm * eIm + qRe * eRe)
    let left = halfFall
    for (let q = 0; q < 2 * deep - 1 && left > GONE; q++) {
      const at = q * along
      for (let m = 0; m < along; m++) {
        table.re[at + m]! += re * steps[m]!
        table.im[at + m]! += im * steps[m]!
      }
      const t = re * stepRe - im * stepIm
      im = re * stepIm + im * stepRe
      re = t
      left *= halfFall * halfFall
    }
  }
  return table
}
