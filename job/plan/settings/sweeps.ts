import { hertz, meters, siemensPerMeter } from '@trueloop/ground/quantity'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import {
  coaxialProbe,
  type Layer,
  type Metal,
  type PlacedCoil,
  planePoint,
  standardDepth
} from '@trueloop/metal/fields'
import type { HoleSheet, Sheet } from '../sheet.ts'
import { coilOf, inductanceOf, notAHole } from './coil.ts'
import { targetIn } from './flaws.ts'
import { type FrequencyPoint, frequencyPoint, type Sweeping, usualSweep } from './frequency.ts'
import { metalFor } from './metal.ts'
import { usualMetal } from './worst.ts'
import { type PlannedZones, zonesOf, zonesText } from './zone.ts'

/** One step of a sweep: all else as the technique has it. */
export interface SweepRow {
  readonly zones: string
  readonly over: 'frequency' | 'lift-off' | 'conductivity' | 'flaw depth' | 'thickness'
  readonly value: number
  readonly unit: 'kHz' | 'mm' | 'MS/m'
  /** The coil over the sound wall in the normalized impedance plane: air is (0, 1). */
  readonly resistance: number
  readonly reactance: number
  /** Of the flaw; undefined where the model has no answer; over thickness the wall is sound. */
  readonly flaw?: FrequencyPoint
  readonly why_not?: string
}

interface Step {
  readonly over: SweepRow['over']
  readonly unit: SweepRow['unit']
  readonly value: number
  readonly sweeping: Sweeping
  readonly frequency_kHz: number
  /** Of a plate with air behind it; absent: metal without end. */
  readonly thickness_m?: number
}

/**
 * Sweeps for each kind of zone and metal: frequency, lift-off, conductivity, thickness of a sound plate, depth of the flaw. Refuses: as settingsOf.
 */
export function sweepsOf(sheet: Sheet, frequencies_kHz: readonly number[] = usualSweep): Result<readonly SweepRow[]> {
  if (!('holes' in sheet)) return notAHole(sheet.technique.application)
  const coil = coilOf(sheet)
  if (isRefusal(coil)) return coil
  const zones = zonesOf(sheet)
  if (isRefusal(zones)) return zones
  const rows: SweepRow[] = []
  for (const one of zones) {
    const steps = stepsOf(sheet, one, { coil, frequencies_kHz })
    if (isRefusal(steps)) return steps
    for (const step of steps) {
      const row = rowOfStep(step, one)
      if (isRefusal(row)) return row
      rows.push(row)
    }
  }
  return rows
}

const shares = [0.25, 0.5, 0.75, 1, 1.5, 2, 3, 4] as const

interface Around {
  readonly coil: PlacedCoil
  readonly frequencies_kHz: readonly number[]
}

function stepsOf(sheet: HoleSheet, zones: PlannedZones, { coil, frequencies_kHz }: Around): Result<readonly Step[]> {
  const planned = metalFor(zones.metal, sheet.technique.allowed)
  if (isRefusal(planned)) return planned
  const l0 = inductanceOf(coil)
  if (isRefusal(l0)) return l0
  const metal = usualMetal(planned)
  const flaw = targetIn(sheet, zones)
  const sweeping: Sweeping = { flaw, coil, metal, inductance_H: l0 }
  const usual = sheet.technique.frequency_kHz
  const delta = standardDepth(hertz(1000 * usual), metal)
  if (isRefusal(delta)) return delta
  const at = (over: SweepRow['over'], unit: SweepRow['unit'], value: number, changed: Partial<Sweeping>): Step => ({
    ...{ over, unit, value, sweeping: { ...sweeping, ...changed } },
    frequency_kHz: over === 'frequency' ? value : usual
  })
  return [
    ...frequencies_kHz.map((kHz) => at('frequency', 'kHz', kHz, {})),
    ...shares.map((share) => {
      const liftOff = meters(share * coil.liftOff)
      return at('lift-off', 'mm', 1000 * liftOff, { coil: { ...coil, liftOff } })
    }),
    ...shares.map((share) => {
      const conductivity = siemensPerMeter(share * metal.conductivity)
      return at('conductivity', 'MS/m', 1e-6 * conductivity, { metal: { ...metal, conductivity } })
    }),
    ...shares.map((share) => {
      const thickness_m = share * delta
      return { ...at('thickness', 'mm', 1000 * thickness_m, {}), thickness_m }
    }),
    ...shares.map((share) => {
      const depth_m = share * flaw.depth_m
      return at('flaw depth', 'mm', 1000 * depth_m, { flaw: { ...flaw, depth_m } })
    })
  ]
}

function rowOfStep(step: Step, zones: PlannedZones): Result<SweepRow> {
  const { over, unit, value, sweeping, frequency_kHz, thickness_m } = step
  const { coil, metal, inductance_H } = sweeping
  const probe = coaxialProbe(coil)
  if (isRefusal(probe)) return probe
  const layers = thickness_m === undefined ? [endless(metal)] : [{ ...metal, thickness: meters(thickness_m) }, air]
  const plane = planePoint({ probe, inductance_H, frequency: hertz(1000 * frequency_kHz), layers })
  if (isRefusal(plane)) return plane
  if (thickness_m !== undefined) return { zones: zonesText(zones), over, value, unit, ...plane }
  const flaw = frequencyPoint(sweeping, frequency_kHz)
  const place = { zones: zonesText(zones), over, value, unit, ...plane }
  return typeof flaw === 'string' ? { ...place, why_not: flaw } : { ...place, flaw }
}

const endless = (metal: Metal): Layer => ({ ...metal, thickness: 'infinite' })
const air: Layer = { conductivity: siemensPerMeter(0), permeability: 1, thickness: 'infinite' }

const columns = [
  'zones',
  'over',
  'value',
  'unit',
  'resistance_normalized',
  'reactance_normalized',
  'depth_of_penetration_mm',
  'phase_lag_deg',
  'separation_deg',
  'flaw_share',
  'square_share',
  'why_not'
] as const

const quoted = (text: string): string => (/[",\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text)

/** Sweeps as CSV (RFC 4180), one header line; figures with seven digits. */
export function sweepsCsv(rows: readonly SweepRow[]): string {
  const figure = (value: number | undefined): string =>
    value === undefined ? '' : String(Number(value.toPrecision(7)))
  const lines = rows.map(({ zones, over, value, unit, resistance, reactance, flaw, why_not = '' }) =>
    [
      ...[quoted(zones), over, figure(value), unit, figure(resistance), figure(reactance)],
      ...[figure(flaw?.depth_of_penetration_mm), figure(flaw?.phase_lag_deg), figure(flaw?.separation_deg)],
      ...[figure(flaw?.flaw_share), figure(flaw?.square_share), quoted(why_not)]
    ].join(',')
  )
  return `${[columns.join(','), ...lines].join('\r\n')}\r\n`
}
