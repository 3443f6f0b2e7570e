import { cos, exp, PI, sin } from '@trueloop/ground/numerics'
import { meters } from '@trueloop/ground/quantity'
import type { Result } from '@trueloop/ground/refusal'
import type { FieldsCode } from '../codes.ts'
import { gaussLegendre, type Quadrature } from '../gauss.ts'
import { waveNumbers } from '../layers/grid.ts'
import { turnDensity } from '../layers/probe.ts'
import { placesOf, type RadialCoil, radialComplaint } from './coil.ts'
import { holeWaveNumbers } from './grid.ts'
import type { HoleProbe } from './impedance.ts'
import { type Across, acrossOf, acrossWinding, addEnd, atWall, type End, windingEnd } from './radial.kernel.ts'

/** Beyond exp(-18) = 2e-8 of the field at the wall, 2e-16 of its square, nothing is left of the integrand. */
const FALL = 18
/** Phase of the fastest part over a panel of wave numbers, which 24 points integrate to 1e-15 when it is squared. */
const PHASE = 16
/** Phase of the fastest part over a panel of wave numbers, which 12 points integrate to 1e-9. */
const WAVE = 16
/** Of the largest sum of squares at any k, what the orders left out may make together. */
const LEAST = 1e-15

/**
 * A coil that faces the wall of a hole: what f_m(k)^2 is for every order m and wave number k, whatever the metal. b radius
 * of the hole, m; f_m(k) as at radialField. Holds for air-core coils of rectangular section with evenly spread turns in a
 * straight round hole, far from its ends and from other layers.
 * Refuses: as radialComplaint. Derived anew. source: burke-theodoulidis-2004
 */
export function radialProbe(placed: RadialCoil): Result<HoleProbe, FieldsCode> {
  const bad = radialComplaint(placed)
  if (bad !== undefined) return bad
  const outer = placed.coil.outerRadius
  const { nodes, weights } = waveNumbers(PHASE / outer, endOf(placed, FALL))
  const fields = fieldsOf(placed, nodes, FALL)
  const sums = fields.map((f) => f.reduce((sum, value) => sum + value * value, 0))
  const least = LEAST * sums.reduce((most, sum) => Math.max(most, sum), 0)
  const squares = fields.map((f, i) => squared(f, weights[i]!, least))
  return { radius: meters(placesOf(placed).radius), k: nodes, squares }
}

/** What a coil puts on the wall of a hole, whatever the metal: f_m for orders from 0 up at each wave number. */
export interface RadialField {
  /** Wave numbers along the hole, 1/m, and their weights in an integral. */
  readonly k: Float64Array
  readonly weights: Float64Array
  readonly orders: readonly Float64Array[]
}

/**
 * f_m(k) = integral over y of G(y, k) [I_m(k rho) / I_m(k b) cos(m phi)] between the ends of the winding, rho and phi the
 * place (x, y); G as at acrossWinding times N / (w l). Followed until its fall at the wall has reached exp(-fall), at wave
 * numbers that do for cos(k z) with z up to `reach`. Derived anew. source: burke-theodoulidis-2004
 */
export function radialField(
  placed: RadialCoil,
  { fall, reach }: { readonly fall: number; readonly reach: number }
): RadialField {
  const widest = WAVE / (reach + placed.coil.outerRadius)
  const range = { first: 2 / placed.holeDiameter, end: endOf(placed, fall), widest }
  const { nodes, weights } = holeWaveNumbers(range)
  return { k: nodes, weights, orders: fieldsOf(placed, nodes, fall) }
}

/** Where the field at the wall has fallen by exp(-fall), 1/m. */
function endOf(placed: RadialCoil, fall: number): number {
  const { radius, near, far } = placesOf(placed)
  return fall / (radius - Math.max(near, -far))
}

/** f_m at each k; k rises. Orders that have died away at one k are dead at the next ones. */
function fieldsOf(placed: RadialCoil, k: Float64Array, fall: number): readonly Float64Array[] {
  const section = sectionOf(placed, fall)
  const from = k.findIndex((one) => one * section.radius > SLOW)
  const fields = [...slowFields(k.subarray(0, from), section)]
  const least = DEAD * exp(-fall)
  for (const one of k.subarray(from)) {
    const f = fieldOf(one, section)
    fields.push(f)
    section.seen.orders = living(f, least * section.seen.largest)
  }
  return fields
}

/** Of what falls to exp(-fall) this part may still be seen beside the largest. */
const DEAD = 0.01

/** The last order above `least`, and some more. */
function living(f: Float64Array, least: number): number {
  let last = f.length - 1
  while (last > 0 && Math.abs(f[last]!) < least) last--
  return Math.min(f.length - 1, last + 8)
}

/** What does not depend on k: where the columns of dipoles stand and how to integrate along them. */
interface Section {
  readonly radius: number
  readonly across: readonly Across[]
  /** Weights of the columns: turn density, both signs of y, step in y. */
  readonly weights: Float64Array
  readonly ends: readonly End[]
  /** The largest f_m met so far, at any k, and the last order that is worth computing. */
  readonly seen: { largest: number; orders: number }
}

function sectionOf(placed: RadialCoil, fall: number): Section {
  const end = endOf(placed, fall)
  const { innerRadius: inner, outerRadius: outer } = placed.coil
  const { radius, near, far } = placesOf(placed)
  const corner = Math.sqrt(Math.max(near * near, far * far) + outer * outer)
  const rule = easedRule(20 + Math.ceil((end * outer) / 8))
  const nodes = [...rule.nodes.map((t) => inner * t), ...rule.nodes.map((t) => inner + (outer - inner) * t)]
  const steps = [...rule.weights.map((w) => inner * w), ...rule.weights.map((w) => (outer - inner) * w)]
  // an inner radius of zero leaves half of the columns without a width
  const y = Float64Array.from(nodes.filter((_, i) => steps[i]! > 0))
  const z = easedRule(30 + Math.ceil((end * outer) / 4))
  const orders = Math.ceil(fall / (1 - corner / radius)) + 12
  return {
    radius,
    across: Array.from(y, (one) => acrossOf(one, inner, outer, z)),
    weights: Float64Array.from(steps.filter((w) => w > 0)).map((w) => 2 * turnDensity(placed.coil) * w),
    ends: [windingEnd(near, 1, y, orders), windingEnd(far, -1, y, orders)],
    seen: { largest: 0, orders }
  }
}

/** Gauss on [0, 1] in u with t = u^2 (3 - 2u): flat at both ends, for integrands with a root or a kink there. */
function easedRule(count: number): Quadrature {
  const { nodes, weights } = gaussLegendre(count)
  const u = nodes.map((x) => 0.5 * (x + 1))
  return { nodes: u.map((x) => x * x * (3 - 2 * x)), weights: weights.map((w, i) => 3 * w * u[i]! * (1 - u[i]!)) }
}

/** Of the largest field, see addEnd; a column is one of many. */
const NOTHING = 1e-15

/** f_m(k) for m = 0 and up. */
function fieldOf(k: number, { radius, across, weights, ends, seen }: Section): Float64Array {
  const weight = weights.map((w, i) => w * acrossWinding(k, across[i]!))
  const f = new Float64Array(seen.orders + 1)
  const wall = atWall(k, radius, seen.orders)
  const nothing = Math.max((NOTHING * seen.largest) / weight.length, Number.MIN_VALUE)
  for (const end of ends) addEnd(wall, end, { weight, nothing }, f)
  seen.largest = f.reduce((most, value) => Math.max(most, Math.abs(value)), seen.largest)
  return f
}

/**
 * Up to k b = 1/4 f_m is a polynomial in k^2: its poles are the zeros of I_m, the nearest at (k b)^2 = -5.8, so that nine
 * Chebyshev points leave less than 1e-16.
 */
const SLOW = 0.25
const POINTS = 9

function slowFields(k: Float64Array, section: Section): readonly Float64Array[] {
  const most = (SLOW / section.radius) * (SLOW / section.radius)
  const angles = Array.from({ length: POINTS }, (_, i) => (PI * (i + 0.5)) / POINTS)
  const squares = angles.map((angle) => 0.5 * most * (1 + cos(angle)))
  const fields = squares.map((square) => fieldOf(Math.sqrt(square), section))
  // barycentric weights of Chebyshev points of the first kind
  const parts = angles.map((angle, i) => (i % 2 === 0 ? 1 : -1) * sin(angle))
  return Array.from(k, (one) => {
    const shares = parts.map((part, i) => part / (one * one - squares[i]!))
    const sum = shares.reduce((total, share) => total + share, 0)
    const f = new Float64Array(section.seen.orders + 1)
    fields.forEach((field, i) => {
      const share = shares[i]! / sum
      for (let m = 0; m < f.length; m++) f[m]! += share * field[m]!
    })
    return f
  })
}

/** Weight times the square, twice for m > 0, without the last orders whose squares together are less than `least`. */
function squared(f: Float64Array, weight: number, least: number): Float64Array {
  let count = f.length
  for (let rest = 0; count > 1; count--) {
    rest += 2 * f[count - 1]! * f[count - 1]!
    if (rest > least) break
  }
  return f.subarray(0, count).map((value, m) => (m === 0 ? weight : 2 * weight) * value * value)
}
