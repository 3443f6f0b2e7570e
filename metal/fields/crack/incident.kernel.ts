import { cos, exp, PI, sin } from '@trueloop/ground/numerics'
import { besselJ01 } from '../bessel.kernel.ts'
import type { Quadrature } from '../gauss.ts'
import type { PlacedCoil } from '../layers/coil.ts'
import { waveNumbers } from '../layers/grid.ts'
import { coupling } from '../layers/probe.ts'
import { MU0 } from '../vacuum.ts'
import { type CellGrid, type ComplexTable, complexTable } from './dipole.kernel.ts'
import type { Diffusing } from './surface.kernel.ts'

/** Phase over a panel that its 24 points integrate to 1e-13. */
export const PHASE = 20
/** exp(-28) = 7e-13 of the field at the coil is left out, and the radial moment falls beside it. */
export const CUT = 28
const GONE = 1e-14

/**
 * Vector potential of a coil in the metal below it for unit current, [radius * deep + row], Wb/m: at each radius (m) and
 * in the middle of each row of cells,
 * A = mu0 integral of a / (a + g / mur) N / (w l) C (exp(-a h) - exp(-a (h + l))) / a J1(a radius) exp(g z) d a,
 * g^2 = a^2 + j omega mu sigma, z < 0 in the metal. Half-space. source: dodd-deeds-1968
 */
export function potentialTable(
  coil: PlacedCoil,
  radii: Float64Array,
  grid: Pick<CellGrid, 'deep' | 'height'>,
  metal: Diffusing
): ComplexTable {
  const { deep } = grid
  const farthest = radii.reduce((most, r) => Math.max(most, r), 0)
  const rule = waveNumbers(PHASE / (farthest + coil.coil.outerRadius), CUT / coil.liftOff)
  const { nodes } = rule
  const { spectrum, ends } = depthSpectrum(coupling(nodes, coil), { rule, grid, metal })
  const table = complexTable(radii.length * deep)
  const j = new Float64Array(2)
  for (let r = 0; r < radii.length; r++) {
    const at = r * deep
    for (let i = 0; i < nodes.length; i++) {
      const end = ends[i]!
      if (end === 0) continue
      besselJ01(nodes[i]! * radii[r]!, j)
      const j1 = j[1]!
      const from = i * deep
      for (let k = 0; k < end; k++) {
        table.re[at + k]! += j1 * spectrum.re[from + k]!
        table.im[at + k]! += j1 * spectrum.im[from + k]!
      }
    }
  }
  return table
}

/** What falls with depth in the field of a coil. */
export interface DepthSpectrum {
  /** [wave number * deep + row]. */
  readonly spectrum: ComplexTable
  /** Up to which row it is worth adding, for each wave number. */
  readonly ends: Int32Array
  readonly deep: number
}

export interface InMetal {
  readonly rule: Quadrature
  readonly grid: Pick<CellGrid, 'deep' | 'height'>
  readonly metal: Diffusing
}

/** mu0 a / (a + g / mur) coupled exp(g z) and the weight of each wave number a; `coupled` is what the coil puts on it. */
export function depthSpectrum(coupled: Float64Array, { rule, grid, metal }: InMetal): DepthSpectrum {
  const { nodes, weights } = rule
  const { deep, height } = grid
  const { omega, permeability, conductivity } = metal
  const spectrum = complexTable(nodes.length * deep)
  const ends = new Int32Array(nodes.length)
  const diffusion = omega * MU0 * permeability * conductivity
  const least = GONE * coupled.reduce((most, value, i) => Math.max(most, Math.abs(value * weights[i]!)), 0)
  for (let i = 0; i < nodes.length; i++) {
    const a = nodes[i]!
    const aa = a * a
    const gRe = Math.sqrt(0.5 * (Math.sqrt(aa * aa + diffusion * diffusion) + aa))
    const gIm = (0.5 * diffusion) / gRe
    const fRe = a + gRe / permeability
    const fIm = gIm / permeability
    const scale = (MU0 * weights[i]! * a * coupled[i]!) / (fRe * fRe + fIm * fIm)
    const half = exp(-0.5 * gRe * height)
    const halfRe = half * cos(0.5 * gIm * height)
    const halfIm = -half * sin(0.5 * gIm * height)
    const stepRe = halfRe * halfRe - halfIm * halfIm
    const stepIm = 2 * halfRe * halfIm
    let re = scale * (fRe * halfRe + fIm * halfIm)
    let im = scale * (fRe * halfIm - fIm * halfRe)
    let left = half * Math.abs(coupled[i]! * weights[i]!)
    let k = 0
    for (; k < deep && left > least; k++) {
      spectrum.re[i * deep + k] = re
      spectrum.im[i * deep + k] = im
      const t = re * stepRe - im * stepIm
      im = re * stepIm + im * stepRe
      re = t
      left *= half * half
    }
    ends[i] = k
  }
  return { spectrum, ends, deep }
}

/** Points of a piece in which the potential is interpolated over the radius. */
export const POINTS = 16

/** Chebyshev points of the first kind in pieces of the given length from 0 on, as many as reach `farthest`. */
export function pieceRadii(farthest: number, length: number): Float64Array {
  const pieces = Math.floor(farthest / length) + 1
  return Float64Array.from({ length: pieces * POINTS }, (_, at) => {
    const piece = Math.floor(at / POINTS)
    return length * (piece + 0.5 - 0.5 * cos((PI * ((at % POINTS) + 0.5)) / POINTS))
  })
}

/** Barycentric weights of these points; source: abramowitz-stegun-1964, 25.2.2 with the points of 25.4.38. */
const barycentric = Float64Array.from(
  { length: POINTS },
  (_, at) => (at % 2 === 0 ? 1 : -1) * sin((PI * (at + 0.5)) / POINTS)
)

/** Weights of the points of the piece of a radius, into out; gives the number of the first of these points. */
export function interpolation(radius: number, radii: Float64Array, length: number, out: Float64Array): number {
  const start = POINTS * Math.min(Math.floor(radius / length), radii.length / POINTS - 1)
  let sum = 0
  for (let k = 0; k < POINTS; k++) {
    const apart = radius - radii[start + k]!
    if (apart === 0) {
      out.fill(0)
      out[k] = 1
      return start
    }
    out[k] = barycentric[k]! / apart
    sum += out[k]!
  }
  for (let k = 0; k < POINTS; k++) out[k]! /= sum
  return start
}
