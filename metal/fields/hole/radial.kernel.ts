import { cos, exp, log, sin } from '@trueloop/ground/numerics'
import type { Quadrature } from '../gauss.ts'
import { ratiosOfI, scaledI0 } from './modified.kernel.ts'

/** One end of the winding as columns of dipoles, in rising distance from the axis of the hole; the same for every k. */
export interface End {
  /** +1 for the end toward which the axis points, -1 for the other */
  readonly sign: number
  /** distance of each column from the axis of the hole, m */
  readonly rho: Float64Array
  /** cos(m phi), [column * stride + m], phi the angle of the column in the hole */
  readonly turns: Float64Array
  readonly stride: number
}

/** `at`: distance of the end from the axis of the hole along the axis of the coil; y: columns across it, m. */
export function windingEnd(at: number, sign: number, y: Float64Array, orders: number): End {
  const stride = orders + 1
  const turns = new Float64Array(y.length * stride)
  const rho = y.map((one) => Math.sqrt(at * at + one * one))
  for (let i = 0; i < y.length; i++) {
    const stepRe = rho[i] === 0 ? 1 : at / rho[i]!
    const stepIm = rho[i] === 0 ? 0 : y[i]! / rho[i]!
    let re = 1
    let im = 0
    for (let m = 0; m < stride; m++) {
      turns[i * stride + m] = re
      const next = re * stepRe - im * stepIm
      im = re * stepIm + im * stepRe
      re = next
    }
  }
  return { sign, rho, turns, stride }
}

/** exp(-36) = 2e-16 of the largest field at any k is not followed to higher orders. */
const CUT = 36
/** Orders between two looks at how far a column is from being done. */
const LOOK = 4

let orders = new Float64Array(0)
let push = new Float64Array(0)
let carry = new Float64Array(0)
let rows = new Float64Array(0)

/** For one k: what the recurrence of addEnd takes from the wall. */
export interface AtWall {
  readonly k: number
  readonly radius: number
  /** exp(-k b) I_0(k b) */
  readonly base: number
}

/** Orders that the recurrence begins above the last one wanted, so that what it is begun with has died away. */
const above = (x: number): number => 6 + Math.ceil(2 * Math.sqrt(x))

/** Fills the columns of addEnd for orders up to `last`. */
export function atWall(k: number, radius: number, last: number): AtWall {
  const x = k * radius
  const count = last + above(x) + LOOK + 1
  if (orders.length <= count) {
    orders = new Float64Array(count + 1)
    push = new Float64Array(count + 1)
    carry = new Float64Array(count + 1)
    rows = new Float64Array(count + 1)
  }
  ratiosOfI(x, count, orders)
  for (let m = 1; m < count; m++) {
    push[m] = (2 * m * orders[m]!) / k
    carry[m] = orders[m]! * orders[m + 1]!
  }
  return { k, radius, base: scaledI0(x) }
}

/** Leading term of log I_m(x) for large m or x, but for a root that hardly changes. source: abramowitz-stegun-1964, 9.7.7 */
function size(m: number, x: number): number {
  const s = Math.sqrt(m * m + x * x)
  return s - m * log((m + s) / x)
}

/**
 * Adds to f[m], m = 0 to its end, sign times the sum over the columns of weight t_m cos(m phi), t_m = I_m(k rho) / I_m(k b).
 * `nothing`: what is not worth following, exp(-CUT) of the largest field at any k so far.
 *
 * t_m falls with m. By the recurrence of I, downward and so stable, all terms positive: t_(m-1) = (2 m w_m / (k rho)) t_m +
 * w_m w_(m+1) t_(m+1), w_m = I_m(k b) / I_(m-1)(k b); begun a little above the order where t_m is nothing and scaled
 * to t_0 = I_0(k rho) / I_0(k b) in the end. source: nist-dlmf 10.29.1
 */
export function addEnd(
  { k, radius, base }: AtWall,
  { sign, rho, turns, stride }: End,
  { weight, nothing }: { readonly weight: Float64Array; readonly nothing: number },
  f: Float64Array
): void {
  const last = f.length - 1
  let count = 0
  for (let i = 0; i < rho.length; i++) {
    const x = k * rho[i]!
    const part = (sign * weight[i]! * scaledI0(x) * exp(k * (rho[i]! - radius))) / base
    const worth = log(Math.abs(part) / nothing)
    if (!(worth > 0)) continue
    if (x < 1e-30) {
      f[0]! += part
      continue
    }
    const most = Math.min(worth, CUT) + size(0, k * radius) - x
    while (count < last && size(count, k * radius) - size(count, x) < most) count += LOOK
    const top = Math.min(count, last)
    downward(x, rho[i]!, top)
    const scale = part / rows[0]!
    const at = i * stride
    for (let m = 0; m <= top; m++) f[m]! += scale * rows[m]! * turns[at + m]!
  }
}

/** t_m but for a factor, m = top down to 0, to rows. */
function downward(x: number, rho: number, top: number): void {
  const start = top + above(x)
  const inverse = 1 / rho
  // ratio of I_start to the order below it. source: amos-1974
  const ratio = x / (start - 0.5 + Math.sqrt((start + 0.5) * (start + 0.5) + x * x))
  // I_(start-1)(a) / I_start(a) times w_start
  let here = orders[start]! / ratio
  let next = 1
  for (let m = start - 1; m > top; m--) {
    const below = push[m]! * inverse * here + carry[m]! * next
    next = here
    here = below
  }
  rows[top] = here
  for (let m = top; m > 0; m--) {
    const below = push[m]! * inverse * here + carry[m]! * next
    next = here
    here = below
    rows[m - 1] = here
  }
}

/** The dipoles of a winding of one turn per area as seen across it at one y: what does not depend on k. */
export interface Across {
  readonly z1: number
  readonly width: number
  readonly z: Float64Array
  readonly part: Float64Array
}

/** `rule`, on [0, 1], serves the part outside the inner radius, 0 to 1 in z from one circle to the other. */
export function acrossOf(y: number, inner: number, outer: number, rule: Quadrature): Across {
  const z1 = Math.sqrt(Math.max(inner * inner - y * y, 0))
  const z2 = Math.sqrt(Math.max(outer * outer - y * y, 0))
  const z = rule.nodes.map((t) => z1 + (z2 - z1) * t)
  const part = z.map((one, i) => (z2 - z1) * rule.weights[i]! * Math.max(outer - Math.sqrt(y * y + one * one), 0))
  return { z1, width: outer - inner, z, part }
}

/**
 * Integral over z of M(sqrt(y^2 + z^2)) cos(k z) with M = outer - max(s, inner) for s < outer: the dipoles of a winding
 * of one turn per area seen across it.
 */
export function acrossWinding(k: number, { z1, width, z, part }: Across): number {
  let sum = (width * sin(k * z1)) / k
  for (let i = 0; i < z.length; i++) sum += part[i]! * cos(k * z[i]!)
  return 2 * sum
}
