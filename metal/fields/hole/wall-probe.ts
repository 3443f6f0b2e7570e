import { cos, PI, sin } from '@trueloop/ground/numerics'
import type { Quantity } from '@trueloop/ground/quantity'
import type { Refusal, Result } from '@trueloop/ground/refusal'
import { type FieldsCode, refuse } from '../codes.ts'
import { MU0 } from '../vacuum.ts'
import { type RadialCoil, radialComplaint } from './coil.ts'
import { addMetalField } from './metal-field.kernel.ts'
import { type RadialField, radialField } from './radial.ts'
import type { Wall } from './wall.kernel.ts'

/** Beyond exp(-20) = 2e-9 of the field at the wall nothing is left. */
const FALL = 20
/** An order that puts less than this part of the largest on the wall is left out, with all above it. */
const LEAST = 1e-9

/** A coil that faces the wall of a hole, planned once: it serves any metal, frequency and crack in that hole. */
export interface WallProbe {
  readonly placed: RadialCoil
  /** So far from the axis of the coil along the hole its field is known, m. */
  readonly reach: Quantity<'m'>
  readonly field: RadialField
}

/** Beyond this many outer radii a coil sees nothing, and wave numbers get many. */
const FARTHEST = 40

/**
 * Plans a coil for cracks in the wall of its hole, none of which may reach farther from the axis of the coil along the hole
 * than `reach`; cost grows with it. Refuses: as radialProbe, and fields/bad-reach.
 */
export function wallProbe(placed: RadialCoil, reach: Quantity<'m'>): Result<WallProbe, FieldsCode> {
  const bad = radialComplaint(placed) ?? reachComplaint(placed, reach)
  if (bad !== undefined) return bad
  const { k, weights, orders } = radialField(placed, { fall: FALL, reach })
  const sizes = orders.map((f, i) => weights[i]! * largestOf(f))
  const least = LEAST * sizes.reduce((most, size) => Math.max(most, size), 0)
  return { placed, reach, field: { k, weights, orders: orders.map((f, i) => cut(f, least / weights[i]!)) } }
}

const reachComplaint = ({ coil }: RadialCoil, reach: number): Refusal<FieldsCode> | undefined =>
  reach > 0 && reach <= FARTHEST * coil.outerRadius
    ? undefined
    : refuse('fields/bad-reach', {
        found: `a reach of ${reach} m along the hole`,
        needed: `one above zero, of at most ${FARTHEST} outer radii of the coil`,
        remedy: 'give the farthest place of the coil from the middle of the crack, and half the length of the crack'
      })

const largestOf = (f: Float64Array): number => f.reduce((most, value) => Math.max(most, Math.abs(value)), 0)

function cut(f: Float64Array, least: number): Float64Array {
  let count = f.length
  while (count > 1 && Math.abs(f[count - 1]!) <= least) count--
  return f.slice(0, count)
}

/** Where in the metal a field is wanted: distances along the hole from the axis of the coil, depths, angles from it. */
export interface WallPoints {
  readonly along: Float64Array
  readonly depths: Float64Array
  readonly angles: readonly number[]
}

/**
 * Field around the hole, E_phi, in the metal behind its wall for unit current, V/m, [along, depth, angle]:
 * -(j omega mu0 / (2 pi^2)) sum over m of (1 for m = 0, else 2) cos(m phi) times the integral over k of sin(k z) times what is
 * at addMetalField. Derived anew. source: burke-theodoulidis-2004
 */
export function fieldInWall({ field }: WallProbe, wall: Wall & { readonly omega: number }, points: WallPoints) {
  const { along, depths, angles } = points
  const size = depths.length * angles.length
  const table = { re: new Float64Array(along.length * size), im: new Float64Array(along.length * size) }
  const places = { depths, angles: angles.length, turns: turnsOf(field, angles) }
  const front = (wall.omega * MU0) / (2 * PI * PI)
  const mode = { re: new Float64Array(size), im: new Float64Array(size) }
  field.k.forEach((k, i) => {
    mode.re.fill(0)
    mode.im.fill(0)
    addMetalField({ k, f: field.orders[i]! }, wall, places, mode)
    for (let z = 0; z < along.length; z++) {
      // times -j
      const part = front * field.weights[i]! * sin(k * along[z]!)
      const to = z * size
      for (let at = 0; at < size; at++) {
        table.re[to + at]! += part * mode.im[at]!
        table.im[to + at]! -= part * mode.re[at]!
      }
    }
  })
  return table
}

/** cos(m phi), [order * angles + angle]. */
function turnsOf({ orders }: RadialField, angles: readonly number[]): Float64Array {
  const count = orders.reduce((most, f) => Math.max(most, f.length), 0)
  return Float64Array.from({ length: count * angles.length }, (_, at) =>
    cos(Math.floor(at / angles.length) * angles[at % angles.length]!)
  )
}
