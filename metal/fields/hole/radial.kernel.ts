import { cos, exp, sin } from '@trueloop/ground/numerics'
import type { Quadrature } from '../gauss.ts'
import { ratiosOfI, scaledI0 } from './modified.kernel.ts'

/** One end of the winding: where its columns of dipoles stand, from the axis of the hole. */
export interface End {
  /** distance of the end from the axis along the axis of the coil, m */
  readonly at: number
  /** +1 for the end toward which the axis points, -1 for the other */
  readonly sign: number
}

/** The dipoles of a coil as its cross-section sees them: y across the coil, weights for each y. */
export interface Columns {
  readonly y: Float64Array
  readonly weight: Float64Array
}

/** Below exp(-38) = 3e-17 of its value at the wall a field is not followed to higher orders. */
const CUT = 38
let rows = new Float64Array(0)
let wall = new Float64Array(0)

/**
 * Adds to f[m], m = 0 to its end, sign times the sum over the columns of weight I_m(k rho) / I_m(k b) cos(m phi), rho and
 * phi the place (at, y) of a column in the hole. The ratio is carried from order to order; it is below (rho / b)^m.
 */
export function addEnd(k: number, radius: number, { at, sign }: End, columns: Columns, f: Float64Array): void {
  const last = f.length - 1
  if (rows.length <= last) {
    rows = new Float64Array(last + 1)
    wall = new Float64Array(last + 1)
  }
  ratiosOfI(k * radius, last, wall)
  const base = scaledI0(k * radius)
  for (let m = 1; m <= last; m++) wall[m] = 1 / wall[m]!
  const { y, weight } = columns
  for (let i = 0; i < y.length; i++) {
    if (weight[i] === 0) continue
    const rho = Math.sqrt(at * at + y[i]! * y[i]!)
    if (rho === 0) {
      f[0]! += (sign * weight[i]! * exp(-k * radius)) / base
      continue
    }
    // (rho / b)^m < exp(-CUT) from here on; log(r) <= r - 1 makes it a safe bound
    const orders = Math.min(last, Math.ceil(CUT / (1 - rho / radius)))
    ratiosOfI(k * rho, orders, rows)
    let part = (sign * weight[i]! * scaledI0(k * rho) * exp(k * (rho - radius))) / base
    const turnRe = at / rho
    const turnIm = y[i]! / rho
    let re = 1
    let im = 0
    const nothing = 1e-17 * Math.abs(part)
    f[0]! += part
    for (let m = 1; m <= orders; m++) {
      part *= rows[m]! * wall[m]!
      if (Math.abs(part) < nothing) break
      const next = re * turnRe - im * turnIm
      im = re * turnIm + im * turnRe
      re = next
      f[m]! += part * re
    }
  }
}

/** Radii of a winding, m. */
export interface Radii {
  readonly inner: number
  readonly outer: number
}

/**
 * Integral over z of M(sqrt(y^2 + z^2)) cos(k z) with M = outer - max(s, inner) for s < outer: the dipoles of a winding
 * of one turn per area seen across it. `rule`, on [0, 1], serves the part outside the inner radius, 0 to 1 in z from one
 * circle to the other.
 */
export function acrossWinding(k: number, y: number, { inner, outer }: Radii, rule: Quadrature): number {
  const z1 = Math.sqrt(Math.max(inner * inner - y * y, 0))
  const z2 = Math.sqrt(Math.max(outer * outer - y * y, 0))
  let sum = ((outer - inner) * sin(k * z1)) / k
  for (let i = 0; i < rule.nodes.length; i++) {
    const z = z1 + (z2 - z1) * rule.nodes[i]!
    sum += (z2 - z1) * rule.weights[i]! * Math.max(outer - Math.sqrt(y * y + z * z), 0) * cos(k * z)
  }
  return 2 * sum
}
