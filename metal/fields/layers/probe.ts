import { exp, expm1, PI } from '@trueloop/ground/numerics'
import { meters, type Quantity } from '@trueloop/ground/quantity'
import type { Result } from '@trueloop/ground/refusal'
import { type FieldsCode, refuse } from '../codes.ts'
import { MU0 } from '../vacuum.ts'
import { type Coil, type PlacedCoil, placedComplaint } from './coil.ts'
import { waveNumbers } from './grid.ts'
import { radialMoments } from './moment.kernel.ts'

/** What a probe puts on the layers, whatever they are: made once, used for any frequency and stack of layers. */
export interface LayerProbe {
  /** Wave numbers along the surface, 1/m. */
  readonly alpha: Float64Array
  /** Weight of the reflection at each, in H: Delta Z = j omega sum weight Gamma. */
  readonly weight: Float64Array
  /** The largest radius of its coils. */
  readonly reach: Quantity<'m'>
}

/** Beyond exp(-42) = 6e-19 nothing is left of the integrand. */
const CUT = 42
/** Phase over a panel of its fastest part, which 24 points integrate to 1e-16. */
const PHASE = 28

/**
 * A probe of two coils on one axis: the driver carries the current, the pick-up gives the voltage. Given twice, one
 * coil is an absolute probe.
 *
 * Delta Z = j omega mu0 pi N N' / (w l w' l') integral of C C' / alpha^2 E E' Gamma d alpha from 0 to infinity, with
 * E = exp(-alpha h) - exp(-alpha (h + l)), w = r2 - r1, h lift-off, l length, N turns, C the radial moment (m^2).
 * Holds for air-core coils of rectangular section with evenly spread turns over plane layers that reach far beyond the
 * coil. Windings measured so far give 98 to 99.4 % of the L0 of such a block: scale on a reference before use.
 * Refuses: fields/bad-coil, fields/coil-too-thin, fields/coil-through-surface, fields/lift-off-too-small.
 * source: dodd-deeds-1968, coil above a conductor of two layers; team-15
 */
export function coaxialProbe(driver: PlacedCoil, pickUp: PlacedCoil = driver): Result<LayerProbe, FieldsCode> {
  const bad = placedComplaint(driver) ?? placedComplaint(pickUp)
  if (bad !== undefined) return bad
  const width = PHASE / (driver.coil.outerRadius + pickUp.coil.outerRadius)
  const { nodes, weights } = waveNumbers(width, CUT / (driver.liftOff + pickUp.liftOff))
  const first = coupling(nodes, driver)
  const second = pickUp === driver ? first : coupling(nodes, pickUp)
  const weight = weights.map((w, i) => MU0 * PI * w * first[i]! * second[i]!)
  const reach = meters(Math.max(driver.coil.outerRadius, pickUp.coil.outerRadius))
  return { alpha: nodes, weight, reach }
}

/** N / (w l) C E / alpha of one coil, dimensionless. */
export function coupling(alpha: Float64Array, { coil, liftOff }: PlacedCoil): Float64Array {
  const moments = radialMoments(alpha, coil.innerRadius, coil.outerRadius)
  const density = turnDensity(coil)
  return moments.map((c, i) => {
    const a = alpha[i]!
    return (-density * c * exp(-a * liftOff) * expm1(-a * coil.length)) / a
  })
}

/** Turns per area of the winding's section, 1/m^2. */
export const turnDensity = ({ innerRadius, outerRadius, length, turns }: Coil): number =>
  turns / ((outerRadius - innerRadius) * length)

/**
 * The same probe lifted by a further distance: each weight times exp(-2 alpha rise), exactly. A curve of lift-off so
 * costs one plan, made at its lowest point. Refuses: fields/lowered (the plan has no wave numbers for it).
 */
export function raised(probe: LayerProbe, rise: Quantity<'m'>): Result<LayerProbe, FieldsCode> {
  if (!(rise >= 0) || !Number.isFinite(rise))
    return refuse('fields/lowered', {
      found: `a rise of ${rise} m`,
      needed: 'a rise of zero or more',
      remedy: 'plan the probe at its smallest lift-off and raise it from there'
    })
  return { ...probe, weight: probe.weight.map((w, i) => w * exp(-2 * probe.alpha[i]! * rise)) }
}
