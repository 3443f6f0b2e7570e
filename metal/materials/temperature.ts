import { fromTrade, type Quantity, toTrade } from '@trueloop/ground/quantity'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { type MaterialsCode, refuse } from './codes.ts'
import { resistivity_uOhm_cm } from './lookup.ts'
import type { Base, Standing } from './material.ts'

/** Rise of resistivity per kelvin, nearly the same for all alloys of one base metal. */
export interface TemperatureLaw {
  readonly base: Base
  readonly beta_uOhm_cm_per_K: number
  readonly standing: Standing
  readonly source: string
}

export const temperatureLaws: readonly TemperatureLaw[] = [
  // 0.1 nOhm m / K, rounded there; 0.0115 is also met, from memory
  { base: 'aluminum', beta_uOhm_cm_per_K: 0.01, standing: 'confirmed', source: 'asm-handbook-2, entry 1050' },
  // 0.00393 / K of 1.7241 µOhm cm
  { base: 'copper', beta_uOhm_cm_per_K: 0.00393 * 1.7241, standing: 'proposed', source: 'from memory' }
]

/** Limits of the straight line, °C. Shop temperatures; common practice, proposed. */
export const temperatureLimits_C = { low: 0, high: 60 } as const

/**
 * Conductivity at a temperature from that at 20 °C: rho(T) = rho20 + beta (T - 20), rho = 1 / sigma. T in °C, from
 * 0 to 60. Refuses: materials/outside-temperature, materials/no-temperature-law (no coefficient for this base metal),
 * materials/bad-value. source: asm-handbook-2, entry 1050
 */
export const conductivityAt = (at20: Quantity<'S/m'>, base: Base, temperature_C: number) =>
  moved(at20, base, { temperature_C, sense: 1 })

/** Conductivity at 20 °C from that measured at a temperature: the other way round; refuses the same. */
export const conductivityAt20 = (measured: Quantity<'S/m'>, base: Base, temperature_C: number) =>
  moved(measured, base, { temperature_C, sense: -1 })

interface Move {
  readonly temperature_C: number
  readonly sense: 1 | -1
}

function moved(
  value: Quantity<'S/m'>,
  base: Base,
  { temperature_C, sense }: Move
): Result<Quantity<'S/m'>, MaterialsCode> {
  const { low, high } = temperatureLimits_C
  if (!(temperature_C >= low && temperature_C <= high)) return outsideTemperature(temperature_C)
  const law = temperatureLaws.find((one) => one.base === base)
  if (law === undefined) return noLaw(base)
  const resistivity = resistivity_uOhm_cm(value)
  if (isRefusal(resistivity)) return resistivity
  const there = resistivity + sense * law.beta_uOhm_cm_per_K * (temperature_C - 20)
  return there > 0 ? fromTrade(100 / there, 'MS/m') : badlyConducting(toTrade(value, 'MS/m'))
}

const outsideTemperature = (found: number): Result<never, MaterialsCode> =>
  refuse('materials/outside-temperature', {
    found: `${found} °C`,
    needed: `${temperatureLimits_C.low} to ${temperatureLimits_C.high} °C`,
    remedy: 'let part and reference standard come to shop temperature'
  })

const noLaw = (base: Base): Result<never, MaterialsCode> =>
  refuse('materials/no-temperature-law', {
    found: `no temperature coefficient for ${base}`,
    needed: `one of: ${temperatureLaws.map((law) => law.base).join(', ')}`,
    remedy: 'measure the conductivity at the temperature of the examination'
  })

const badlyConducting = (value: number): Result<never, MaterialsCode> =>
  refuse('materials/bad-value', {
    found: `${value} MS/m`,
    needed: 'a conductivity that a metal can have',
    remedy: 'check the value and its unit'
  })
