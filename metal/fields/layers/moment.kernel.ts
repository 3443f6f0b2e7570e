import { besselJ01 } from '../bessel.kernel.ts'
import { gaussLegendre } from '../gauss.ts'

/** One panel of 16 points integrates s J1(s) over 12 rad to 1e-17 of its size (error term of the rule, 25.4.30). */
const PANEL = 12
const rule = gaussLegendre(16)
/** From here on the asymptotic series of F is exact to 1e-17 (its smallest term is about e^-x). */
const FAR = 40

const j = new Float64Array(2)

/**
 * C(alpha) = integral of s J1(alpha s) ds from r1 to r2, in m^2, for each alpha in 1/m: the radial part of a winding of
 * rectangular section. Over less than 12 rad by a Gauss panel; else as (F(alpha r2) - F(alpha r1)) / alpha^2 with
 * F(x) = integral of t J1(t) dt from 0 to x. source: dodd-deeds-1968, the function called J(r2, r1) there
 */
export function radialMoments(alpha: Float64Array, r1: number, r2: number): Float64Array {
  const moments = new Float64Array(alpha.length)
  for (let i = 0; i < alpha.length; i++) {
    const a = alpha[i]!
    const area = a * (r2 - r1) <= PANEL ? onPanel(a * r1, a * r2) : fromZero(a * r2) - fromZero(a * r1)
    moments[i] = area / (a * a)
  }
  return moments
}

/** Integral of t J1(t) over at most 12 rad. */
function onPanel(from: number, to: number): number {
  const half = 0.5 * (to - from)
  const middle = 0.5 * (to + from)
  let sum = 0
  for (let k = 0; k < rule.nodes.length; k++) {
    const t = middle + half * rule.nodes[k]!
    besselJ01(t, j)
    sum += rule.weights[k]! * t * j[1]!
  }
  return half * sum
}

function fromZero(x: number): number {
  if (x >= FAR) return farFromZero(x)
  const panels = Math.ceil(x / PANEL)
  let sum = 0
  for (let k = 0; k < panels; k++) sum += onPanel((x * k) / panels, (x * (k + 1)) / panels)
  return sum
}

/**
 * F(x) = (pi x / 2) (J1 H0 - J0 H1) with the Struve functions as Y plus their asymptotic series, so that the Wronskian
 * gives the 1: F = 1 + J1 U - x J0 V. source: abramowitz-stegun-1964, 11.1.7, 9.1.16 and 12.1.29
 */
function farFromZero(x: number): number {
  besselJ01(x, j)
  const square = 1 / (x * x)
  let u = 1
  let v = 1
  let sumU = 0
  let sumV = 0
  for (let k = 0; k < 20 && Math.abs(u) + Math.abs(v) > 1e-18; k++) {
    sumU += u
    sumV += v
    u *= -(2 * k + 1) * (2 * k + 1) * square
    v *= (1 - 4 * k * k) * square
  }
  return 1 + j[1]! * sumU - x * j[0]! * sumV
}
