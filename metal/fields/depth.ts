import { PI } from '@trueloop/ground/numerics'
import { hertz, meters, type Quantity, radians } from '@trueloop/ground/quantity'
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { type FieldsCode, refuse } from './codes.ts'
import { frequencyComplaint } from './frequency.ts'
import { permeabilityComplaint } from './layers/layer.ts'
import { MU0 } from './vacuum.ts'

/** What a field sees of a metal: conductivity, and relative permeability (1 where it is not magnetic). */
export interface Metal {
  readonly conductivity: Quantity<'S/m'>
  readonly permeability: number
}

/** Refuses: fields/bad-conductivity (a depth needs a metal), fields/bad-permeability. */
const metalComplaint = ({ conductivity, permeability }: Metal): Refusal<FieldsCode> | undefined =>
  conductivity > 0 && Number.isFinite(conductivity)
    ? permeabilityComplaint(permeability)
    : refuse('fields/bad-conductivity', {
        found: `a conductivity of ${conductivity} S/m`,
        needed: 'a metal, with a conductivity above zero',
        remedy: 'check the value and its unit'
      })

/**
 * Standard depth of penetration delta = 1 / sqrt(pi f mu0 mur sigma), m: where the current density of a plane wave has
 * fallen to 1/e. f frequency, Hz; sigma conductivity, S/m; mur relative permeability. Under a coil the fall is faster.
 * Refuses: fields/bad-frequency, fields/bad-conductivity, fields/bad-permeability. source: team-15, its depths
 */
export function standardDepth(frequency: Quantity<'Hz'>, metal: Metal): Result<Quantity<'m'>, FieldsCode> {
  const bad = frequencyComplaint(frequency) ?? metalComplaint(metal)
  if (bad !== undefined) return bad
  return meters(1 / Math.sqrt(PI * frequency * MU0 * metal.permeability * metal.conductivity))
}

/**
 * Phase by which the current at a depth lags the current at the surface: depth / delta, rad (57.3 degrees for each
 * delta). Plane wave, half-space. Refuses: as standardDepth, and fields/bad-depth.
 */
export function phaseLag(
  depth: Quantity<'m'>,
  frequency: Quantity<'Hz'>,
  metal: Metal
): Result<Quantity<'rad'>, FieldsCode> {
  const delta = standardDepth(frequency, metal)
  if (isRefusal(delta)) return delta
  if (depth >= 0 && Number.isFinite(depth)) return radians(depth / delta)
  return refuse('fields/bad-depth', {
    found: `a depth of ${depth} m`,
    needed: 'a depth below the surface, zero or more',
    remedy: 'count depth from the surface under the coil into the metal'
  })
}

/**
 * Characteristic frequency of a solid cylinder in an encircling coil, f_g = 1 / (2 pi mu0 mur sigma a^2), Hz; a half the
 * diameter, m. So that f / f_g = omega mu0 mur sigma a^2 = 2 (a / delta)^2. Form from memory, no source read.
 * Refuses: fields/bad-diameter, fields/bad-conductivity, fields/bad-permeability.
 */
export function characteristicFrequency(diameter: Quantity<'m'>, metal: Metal): Result<Quantity<'Hz'>, FieldsCode> {
  const bad = metalComplaint(metal)
  if (bad !== undefined) return bad
  if (diameter > 0 && Number.isFinite(diameter))
    return hertz(2 / (PI * MU0 * metal.permeability * metal.conductivity * diameter * diameter))
  return refuse('fields/bad-diameter', {
    found: `a diameter of ${diameter} m`,
    needed: 'a diameter above zero',
    remedy: 'give the outer diameter of the bar'
  })
}
