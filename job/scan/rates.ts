/** Which of the rates that a recording offers is used. */
import type { Layout } from './format.ts'
import type { Mapping } from './mapping.ts'
import { rateOfColumn } from './survey.ts'
import type { StampRate } from './time/rate.ts'
import { type Line, roundest } from './time/trend.ts'

export const stampsOf = (layout: Layout, mapping: Mapping): StampRate | undefined =>
  mapping.time === undefined ? undefined : rateOfColumn(layout, mapping.time, mapping.units?.time ?? 1)

export interface KnownRate {
  readonly value: number
  readonly reason: string
  readonly fromStamps: boolean
  readonly warnings: readonly string[]
}

/** The stated rate, else the header's, else that of the stamps; undefined where nothing gives one. */
export function rateFor(layout: Layout, mapping: Mapping, stamps: StampRate | undefined): KnownRate | undefined {
  const stated = mapping.rate_Hz === undefined ? undefined : { value: mapping.rate_Hz, reason: 'stated' }
  const firm = stated ?? layout.rate
  const doubt = stamps === undefined || stamps.warning === '' ? [] : [stamps.warning]
  if (firm === undefined) return stamps && { ...stamps.rate, fromStamps: true, warnings: doubt }
  const other = stamps?.rate.value ?? (stated === undefined ? undefined : layout.rate?.value)
  const differs = other !== undefined && Math.abs(other / firm.value - 1) > 0.01
  const warning = `the recording itself speaks of ${other} Hz, not of ${firm.value} Hz (${firm.reason})`
  return { value: firm.value, reason: firm.reason, fromStamps: false, warnings: differs ? [...doubt, warning] : doubt }
}

/** The trend of all stamps; the rate of the head where the two agree within their uncertainty. */
export function finalRate(known: KnownRate, stamps: StampRate | undefined, line: Line | undefined): Final {
  if (!known.fromStamps || line === undefined || stamps === undefined) return { value: known.value, warnings: [] }
  const tolerance = Math.max(line.tolerance, stamps.line.tolerance)
  const apart = Math.abs(1 / line.step_s / known.value - 1)
  if (apart <= tolerance) return { value: known.value, warnings: [] }
  const value = roundest(1 / line.step_s, line.tolerance)
  const warning = `time stamps speak of ${known.value} Hz at the beginning and of ${value} Hz over the whole recording`
  return { value, warnings: apart > 1e-3 ? [warning] : [] }
}

export interface Final {
  readonly value: number
  readonly warnings: readonly string[]
}
