import { meters } from '@trueloop/ground/quantity'
import type { Result } from '@trueloop/ground/refusal'
import type { FieldsCode } from '../codes.ts'
import { gaussLegendre, type Quadrature } from '../gauss.ts'
import { turnDensity } from '../layers/probe.ts'
import { placesOf, type RadialCoil, type RadialPlaces, radialComplaint } from './coil.ts'
import { holeWaveNumbers } from './grid.ts'
import type { HoleProbe } from './impedance.ts'
import { acrossWinding, addEnd, type Columns } from './radial.kernel.ts'

/** Beyond exp(-18) = 2e-8 of the field at the wall, 2e-16 of its square, nothing is left of the integrand. */
const FALL = 18

/**
 * A coil that faces the wall of a hole: what f_m(k)^2 is for every order m and wave number k, whatever the metal. b radius
 * of the hole, m; f_m(k) as at radialField. Holds for air-core coils of rectangular section with evenly spread turns in a
 * straight round hole, far from its ends and from other layers.
 * Refuses: as radialComplaint. Derived anew. source: burke-theodoulidis-2004
 */
export function radialProbe(placed: RadialCoil): Result<HoleProbe, FieldsCode> {
  const bad = radialComplaint(placed)
  if (bad !== undefined) return bad
  const { k, weights, orders } = radialField(placed, FALL)
  const squares = orders.map((f, i) => squared(f, weights[i]!))
  return { radius: meters(placesOf(placed).radius), k, squares }
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
 * place (x, y); G as at acrossWinding times N / (w l). Followed until its fall at the wall has reached exp(-fall).
 * Derived anew. source: burke-theodoulidis-2004
 */
export function radialField(placed: RadialCoil, fall: number): RadialField {
  const places = placesOf(placed)
  const end = fall / (places.radius - Math.max(places.near, -places.far))
  const widest = 5 / placed.coil.outerRadius
  const { nodes, weights } = holeWaveNumbers({ first: 1 / places.radius, end, widest })
  const columns = columnsFor(placed, end, fall)
  return { k: nodes, weights, orders: Array.from(nodes, (k) => fieldOf(k, places, columns)) }
}

/** What does not depend on k: where the columns stand and how to integrate along them. */
interface Section {
  readonly orders: number
  readonly y: Quadrature
  readonly z: Quadrature
  readonly inner: number
  readonly outer: number
  readonly density: number
}

function columnsFor(placed: RadialCoil, end: number, fall: number): Section {
  const { innerRadius: inner, outerRadius: outer } = placed.coil
  const { radius, near, far } = placesOf(placed)
  const corner = Math.sqrt(Math.max(near * near, far * far) + outer * outer)
  const y = easedRule(20 + Math.ceil((end * outer) / 8))
  const nodes = [...y.nodes.map((t) => inner * t), ...y.nodes.map((t) => inner + (outer - inner) * t)]
  const weights = [...y.weights.map((w) => inner * w), ...y.weights.map((w) => (outer - inner) * w)]
  return {
    orders: Math.ceil(fall / (1 - corner / radius)) + 12,
    y: { nodes: Float64Array.from(nodes), weights: Float64Array.from(weights) },
    z: easedRule(30 + Math.ceil((end * outer) / 4)),
    inner,
    outer,
    density: turnDensity(placed.coil)
  }
}

/** Gauss on [0, 1] in u with t = u^2 (3 - 2u): flat at both ends, for integrands with a root or a kink there. */
function easedRule(count: number): Quadrature {
  const { nodes, weights } = gaussLegendre(count)
  const u = nodes.map((x) => 0.5 * (x + 1))
  return { nodes: u.map((x) => x * x * (3 - 2 * x)), weights: weights.map((w, i) => 3 * w * u[i]! * (1 - u[i]!)) }
}

/** f_m(k) for m = 0 and up. */
function fieldOf(k: number, { radius, near, far }: RadialPlaces, section: Section): Float64Array {
  const { y, z, inner, outer, density, orders } = section
  // twice: the columns at -y are those at y
  const weight = y.nodes.map((at, i) => 2 * density * y.weights[i]! * acrossWinding(k, at, { inner, outer }, z))
  const columns: Columns = { y: y.nodes, weight }
  const f = new Float64Array(orders + 1)
  addEnd(k, radius, { at: near, sign: 1 }, columns, f)
  addEnd(k, radius, { at: far, sign: -1 }, columns, f)
  return f
}

/** Weight times the square, twice for m > 0, cut where it has fallen below 1e-19 of the largest for good. */
function squared(f: Float64Array, weight: number): Float64Array {
  const out = f.map((value, m) => (m === 0 ? weight : 2 * weight) * value * value)
  const least = 1e-19 * out.reduce((most, value) => Math.max(most, value), 0)
  let count = out.length
  while (count > 1 && out[count - 1]! <= least) count--
  return out.slice(0, count)
}
