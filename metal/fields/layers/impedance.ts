import { TAU } from '@trueloop/ground/numerics'
import { ohms, type Quantity } from '@trueloop/ground/quantity'
import type { Result } from '@trueloop/ground/refusal'
import type { FieldsCode } from '../codes.ts'
import { delayComplaint, frequencyComplaint } from '../frequency.ts'
import { columnsOf, type Layer, layersComplaint } from './layer.ts'
import type { LayerProbe } from './probe.ts'
import { reflectionSum } from './reflection.kernel.ts'

/** Z = R + jX for a current that varies as exp(+j omega t). */
export interface Impedance {
  readonly resistance: Quantity<'ohm'>
  readonly reactance: Quantity<'ohm'>
}

/**
 * Impedance with the layers less impedance in air: Delta Z = j omega sum weight Gamma (of the pick-up per unit current
 * in the driver, for a probe of two coils). What holds is said at coaxialProbe.
 * Refuses: fields/bad-frequency, fields/frequency-too-high, and what layersComplaint refuses.
 * source: dodd-deeds-1968
 */
export function impedanceChange(
  probe: LayerProbe,
  frequency: Quantity<'Hz'>,
  layers: readonly Layer[]
): Result<Impedance, FieldsCode> {
  const bad = frequencyComplaint(frequency) ?? delayComplaint(frequency, probe.reach) ?? layersComplaint(layers)
  if (bad !== undefined) return bad
  const omega = TAU * frequency
  const sum = new Float64Array(2)
  reflectionSum(probe.alpha, probe.weight, columnsOf(layers, omega), sum)
  return { resistance: ohms(0 - omega * sum[1]!), reactance: ohms(omega * sum[0]!) }
}
