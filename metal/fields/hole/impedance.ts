import { PI, TAU } from '@trueloop/ground/numerics'
import { ohms, type Quantity } from '@trueloop/ground/quantity'
import type { Result } from '@trueloop/ground/refusal'
import type { FieldsCode } from '../codes.ts'
import type { Metal } from '../depth.ts'
import { delayComplaint, frequencyComplaint } from '../frequency.ts'
import type { Impedance } from '../layers/impedance.ts'
import { layersComplaint } from '../layers/layer.ts'
import { MU0 } from '../vacuum.ts'
import { wallSum } from './wall.kernel.ts'

/** A coil in a hole, planned: it serves any metal and frequency. */
export interface HoleProbe {
  readonly radius: Quantity<'m'>
  /** Wave numbers along the hole, 1/m. */
  readonly k: Float64Array
  /** For each wave number, from order 0 up: weight times f_m(k)^2. */
  readonly squares: readonly Float64Array[]
}

/**
 * Impedance in the hole less impedance in air, for a hole in metal without end:
 * Delta Z = -(j omega mu0 / (2 pi^2)) sum over m of (1 for m = 0, else 2) times the integral of Q_m(k) f_m(k)^2 over k from
 * 0 to infinity. Q_m is the reaction of the wall, see wallSum; f_m the coil, see radialProbe and coaxialInHole.
 * Refuses: fields/bad-frequency, fields/frequency-too-high, fields/bad-permeability, fields/bad-conductivity.
 * Derived anew. source: burke-theodoulidis-2004
 */
export function holeImpedanceChange(
  probe: HoleProbe,
  frequency: Quantity<'Hz'>,
  metal: Metal
): Result<Impedance, FieldsCode> {
  const bad =
    frequencyComplaint(frequency) ??
    delayComplaint(frequency, probe.radius) ??
    layersComplaint([{ ...metal, thickness: 'infinite' }])
  if (bad !== undefined) return bad
  const omega = TAU * frequency
  const { permeability, conductivity } = metal
  const wall = { radius: probe.radius, diffusion: omega * MU0 * permeability * conductivity, permeability }
  const [re, im] = summed(probe, wall)
  const size = (omega * MU0) / (2 * PI * PI)
  return { resistance: ohms(size * im), reactance: ohms(0 - size * re) }
}

function summed({ k, squares }: HoleProbe, wall: Parameters<typeof wallSum>[2]): readonly [number, number] {
  const out = new Float64Array(2)
  let re = 0
  let im = 0
  for (let i = 0; i < k.length; i++) {
    wallSum(k[i]!, squares[i]!, wall, out)
    re += out[0]!
    im += out[1]!
  }
  return [re, im]
}
