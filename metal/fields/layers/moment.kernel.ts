import { besselJ01 } from '../bessel.kernel.ts'
import { gaussLegendre } from '../gauss.ts'

/** Over a phase of at most 1 six points integrate t J1(t) to 1e-17 of its size (error term of the rule, 25.4.30). */
const NARROW = 1
const rule = gaussLegendre(6)
/** Up to here the power series: its terms only fall. */
const SERIES_END = 2
/** From here on the asymptotic series of F is exact to 1e-17 (its smallest term is about e^-x). */
const FAR = 40

const j = new Float64Array(2)

/**
 * C(alpha) = integral of s J1(alpha s) ds from r1 to r2, in m^2, for each alpha in 1/m: the radial part of a winding of
 * rectangular section. Over a narrow phase by a Gauss panel, so that a thin winding keeps its digits; else as
 * (F(alpha r2) - F(alpha r1)) / alpha^2 with F(x) = integral of t J1(t) dt from 0 to x.
 * source: dodd-deeds-1968, the function called J(r2, r1) there
 */
export function radialMoments(alpha: Float64Array, r1: number, r2: number): Float64Array {
  const moments = new Float64Array(alpha.length)
  for (let i = 0; i < alpha.length; i++) {
    const a = alpha[i]!
    const area = a * (r2 - r1) <= NARROW ? onPanel(a * r1, a * r2) : fromZero(a * r2) - fromZero(a * r1)
    moments[i] = area / (a * a)
  }
  return moments
}

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
  return x < SERIES_END ? bySeries(x) : byRecurrence(x)
}

/** Term by term: sum of 4 (-1)^k (x / 2)^(2 k + 3) / (k! (k + 1)! (2 k + 3)). source: abramowitz-stegun-1964, 9.1.10 */
function bySeries(x: number): number {
  const q = -0.25 * x * x
  let term = 0.5 * x * x * x
  let sum = term / 3
  for (let k = 1; k < 16; k++) {
    term *= q / (k * (k + 1))
    sum += term / (2 * k + 3)
  }
  return sum
}

/**
 * F = 2 (J1 + J3 + J5 + ...) - x J0, all from one recurrence downward with the sum 1 = J0 + 2 (J2 + J4 + ...); begun
 * where J is below 1e-17 of the largest for x up to FAR. source: abramowitz-stegun-1964, 11.1.2, 9.1.46, 9.12 example 1
 */
function byRecurrence(x: number): number {
  const twice = 2 / x
  let even = 0
  let odd = 1e-60
  let evens = 0
  let odds = 0
  for (let n = 2 * Math.ceil(0.5 * x + 25) + 1; n > 0; n -= 2) {
    odds += odd
    even = n * twice * odd - even
    evens += even
    odd = (n - 1) * twice * even - odd
  }
  return (2 * odds - x * even) / (2 * evens - even)
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
