import { exp, log, PI, sin, TAU } from '@trueloop/ground/numerics'
import { hertz } from '@trueloop/ground/quantity'
import { isRefusal } from '@trueloop/ground/refusal'
import { type Metal, type PlacedCoil, standardDepth } from '@trueloop/metal/fields'
import { modeledAnswer, outOfLiftOff, type PlannedFlaw } from './answer.ts'

/** Lift-off against flaw at one frequency. */
export interface FrequencyPoint {
  readonly frequency_kHz: number
  readonly depth_of_penetration_mm: number
  /** By how much the current at the bottom of the flaw lags that at the wall, degrees. */
  readonly phase_lag_deg: number
  /** Angle between lift-off and flaw, degrees, 0 to 90. */
  readonly separation_deg: number
  /** Flaw amplitude as a share of the reactance of the coil in air. */
  readonly flaw_share: number
  /** The part of it that is square to lift-off. */
  readonly square_share: number
}

export interface FrequencyWindow {
  readonly low_kHz: number
  readonly high_kHz: number
  readonly best_kHz: number
  readonly reasons: readonly string[]
  readonly would_change: readonly string[]
}

export interface FrequencyAdvice {
  readonly sweep: readonly FrequencyPoint[]
  /** Frequencies at which the model has no answer, with why. */
  readonly outside: readonly string[]
  readonly window?: FrequencyWindow
}

export interface Sweeping {
  readonly flaw: PlannedFlaw
  readonly coil: PlacedCoil
  readonly metal: Metal
  readonly inductance_H: number
  readonly min_separation_deg?: number | undefined
}

const FROM_kHz = 20
const TO_kHz = 5000
const COUNT = 25

/** From 20 kHz to 5 MHz in equal ratios: what instruments for holes reach. */
export const usualSweep: readonly number[] = Array.from(
  { length: COUNT },
  (_, i) => FROM_kHz * exp((log(TO_kHz / FROM_kHz) * i) / (COUNT - 1))
)

/**
 * Flaw and lift-off over frequency, and the window in which the part of the flaw signal that is square to lift-off keeps at
 * least 70 % of its best (3 dB, a rule of ours) and the angle is at least what the technique asks for. What stands square
 * to lift-off is what wobble, wear and ovality do not imitate.
 */
export function frequencyAdvice(sweeping: Sweeping, frequencies_kHz: readonly number[] = usualSweep): FrequencyAdvice {
  const sweep: FrequencyPoint[] = []
  const outside: string[] = []
  for (const kHz of frequencies_kHz) {
    const point = frequencyPoint(sweeping, kHz)
    if (typeof point === 'string') outside.push(point)
    else sweep.push(point)
  }
  const window = windowOf(sweep, sweeping)
  return { sweep, outside, ...(window === undefined ? {} : { window }) }
}

/** One point, or why the model has none. */
export function frequencyPoint(
  { flaw, coil, metal, inductance_H }: Sweeping,
  frequency_kHz: number
): FrequencyPoint | string {
  const frequency_Hz = 1000 * frequency_kHz
  const delta = standardDepth(hertz(frequency_Hz), metal)
  const answer = modeledAnswer(flaw, { coil, metal, frequency_Hz })
  for (const one of [delta, answer])
    if (isRefusal(one)) return `${frequency_kHz.toFixed(0)} kHz: found ${one.found}, needed ${one.needed}`
  if (isRefusal(delta) || isRefusal(answer)) return ''
  const share = answer.amplitude_ohm / (TAU * frequency_Hz * inductance_H)
  const separation = outOfLiftOff(answer.angle)
  return {
    frequency_kHz,
    depth_of_penetration_mm: 1000 * delta,
    phase_lag_deg: ((flaw.depth_m / delta) * 180) / PI,
    separation_deg: (separation * 180) / PI,
    flaw_share: share,
    square_share: share * sin(separation)
  }
}

const KEEPS = Math.sqrt(0.5)

function windowOf(sweep: readonly FrequencyPoint[], sweeping: Sweeping): FrequencyWindow | undefined {
  const { min_separation_deg: least = 0 } = sweeping
  const apart = sweep.filter(({ separation_deg }) => separation_deg >= least)
  if (apart.length === 0) return undefined
  const best = apart.reduce((most, one) => (one.square_share > most.square_share ? one : most))
  const fits = (point: FrequencyPoint) =>
    point.separation_deg >= least && point.square_share >= KEEPS * best.square_share
  const at = sweep.indexOf(best)
  let [from, to] = [at, at]
  while (from > 0 && fits(sweep[from - 1]!)) from--
  while (to < sweep.length - 1 && fits(sweep[to + 1]!)) to++
  return {
    low_kHz: sweep[from]!.frequency_kHz,
    high_kHz: sweep[to]!.frequency_kHz,
    best_kHz: best.frequency_kHz,
    reasons: [
      endReason('below', sweep[from]!, sweep[from - 1], least),
      endReason('above', sweep[to]!, sweep[to + 1], least)
    ],
    would_change: changes(sweeping)
  }
}

function endReason(
  side: 'below' | 'above',
  end: FrequencyPoint,
  next: FrequencyPoint | undefined,
  least: number
): string {
  const place = `${side} ${end.frequency_kHz.toFixed(0)} kHz`
  if (next === undefined) return `${place} nothing was computed, or the model has no answer`
  if (next.separation_deg < least)
    return `${place} flaw and lift-off come closer than ${least}° (${next.separation_deg.toFixed(0)}° at ${next.frequency_kHz.toFixed(0)} kHz)`
  return `${place} less than 70 % is left of the part of the flaw signal that is square to lift-off`
}

const changes = ({ coil, metal }: Sweeping): readonly string[] => [
  `a metal that conducts twice as well${metal.permeability > 1.5 ? ' or has twice the permeability' : ''}: about half of these frequencies`,
  `a coil of half the size (now ${(1000 * coil.coil.outerRadius).toFixed(2)} mm outer radius): higher frequencies`,
  `more lift-off (now ${(1000 * coil.liftOff).toFixed(2)} mm): lower amplitude at every frequency`
]
