import { pow } from '@trueloop/ground/numerics'
import { meters, siemensPerMeter } from '@trueloop/ground/quantity'
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { Metal } from '@trueloop/metal/fields'
import { responsesOf } from '../documents.ts'
import type { HoleSheet } from '../sheet.ts'
import type { Notch } from '../standard.ts'
import { type Driven, decibelsOf, type ModeledAnswer, modeledAnswer, type PlannedFlaw, type Seen } from './answer.ts'
import { notchAs, targetIn } from './flaws.ts'
import type { PlannedMetal } from './metal.ts'
import type { PlannedZones } from './zone.ts'

/** One thing that takes from the amplitude (or adds to it), as a factor. */
export interface Factor {
  readonly of: string
  readonly share: number
  readonly dB: number
  /** Why it is what it is, and where that comes from. */
  readonly why: string
  /** False where the technique does not state what it depends on: the factor is then 1, and the line says so. */
  readonly stated: boolean
}

/** Amplitude of the flaw sought in the worst allowed case, in units of the alarm notch. */
export interface WorstCase {
  readonly factors: readonly Factor[]
  readonly amplitude: number
  readonly alarm_share: number
  readonly over_alarm_dB: number
  readonly noise_share: number
  readonly noise_from: string
  readonly over_noise_dB: number
  /** What is not stated, and so not in the line. */
  readonly not_stated: readonly string[]
}

export interface Worst {
  readonly sheet: HoleSheet
  readonly zones: PlannedZones
  readonly metal: PlannedMetal
  /** Metal of the reference standard. */
  readonly standard: PlannedMetal
  /** The probe over the reference standard, at the frequency of the technique. */
  readonly driven: Driven
  /** The alarm notch in the reference standard, and the flaw sought in the part, as they usually are. */
  readonly notch: Result<ModeledAnswer>
  readonly inPart: ModeledAnswer
}

const metalAt = (conductivity: number, permeability: number): Metal => ({
  conductivity: siemensPerMeter(conductivity),
  permeability
})

export const usualMetal = ({ conductivity, permeability }: PlannedMetal): Metal =>
  metalAt(conductivity.value, permeability.value)

/**
 * The flaw sought at its weakest, as the technique still allows it: model of flaw and alarm notch, both closed and over a flat
 * half-space, times what conductivity, temperature, wear, oversize, drift, pitch and the step from notch to crack take. Each factor
 * is taken at its own worst, so that the product is on the safe side of a chance meeting of all of them.
 * Refuses: as modeledAnswer.
 */
export function worstCase(worst: Worst): Result<WorstCase> {
  const { sheet } = worst
  const { technique } = sheet
  const flaw = targetIn(sheet, worst.zones)
  const against = againstNotch(worst)
  if (isRefusal(against)) return against
  const moved = metalFactor(worst, flaw)
  if (isRefusal(moved)) return moved
  const worn = wearFactor(worst, flaw)
  if (isRefusal(worn)) return worn
  const factors = [against, crackFactor(worst), moved, worn, oversizeFactor(sheet), driftFactor(sheet)]
  const all = [...factors, pitchFactor(sheet, worst.inPart.along)]
  const amplitude = all.reduce((product, { share }) => product * share, 1)
  const noise = technique.allowed?.noise_share ?? 1 / technique.min_signal_to_noise
  return {
    factors: all,
    amplitude,
    alarm_share: technique.alarm.share,
    over_alarm_dB: decibelsOf(amplitude / technique.alarm.share),
    noise_share: noise,
    noise_from:
      technique.allowed?.noise_share === undefined
        ? 'the noisiest wall that the technique lets pass: 1 / min_signal_to_noise'
        : 'technique.allowed.noise_share',
    over_noise_dB: decibelsOf(amplitude / noise),
    not_stated: all.filter(({ stated }) => !stated).map(({ of }) => of)
  }
}

const answerOf = ({ driven }: Pick<Worst, 'driven'>, flaw: PlannedFlaw, metal: Metal): Result<ModeledAnswer> =>
  modeledAnswer(flaw, { ...driven, metal })

const factor = (of: string, share: number, why: string, stated = true): Factor => ({
  of,
  share,
  dB: decibelsOf(share),
  why,
  stated
})

/** The alarm notch, closed, as the model has it in the metal of the reference standard. Refuses: as modeledAnswer. */
export const alarmNotchAnswer = (sheet: HoleSheet, driven: Driven): Result<ModeledAnswer> =>
  modeledAnswer(notchAs(alarmNotch(sheet)), driven)

/** A checked sheet has it. */
const alarmNotch = ({ reference_standard, technique }: HoleSheet): Notch =>
  reference_standard.notches.find(({ id }) => id === technique.alarm.notch)!

function againstNotch({ sheet, standard, metal, notch, inPart }: Worst): Result<Factor> {
  if (isRefusal(notch)) return notch
  const { depth, length } = sheet.technique.target_flaw_mm
  return factor(
    'flaw sought against alarm notch',
    inPart.amplitude_ohm / notch.amplitude_ohm,
    `modeled: ${depth} × ${length} mm in ${metal.name} against ${sheet.technique.alarm.notch} in ${standard.name}, both closed`
  )
}

/** 95 of 100 of a normal distribution lie above the mean less this many standard deviations. */
const ONE_SIDED_95 = 1.645

/** Weaker cracks than notches of their size: what an approved ratio says of all but one in twenty. */
function crackFactor({ sheet, zones }: Worst): Factor {
  const { technique } = sheet
  const found = responsesOf(sheet).ratios.find(
    ({ kinds, metal, frequency_kHz: { least, most }, probe_type, depth_mm }) =>
      kinds.includes(zones.kind) &&
      metal === technique.metal &&
      probe_type === technique.arrangement &&
      technique.frequency_kHz >= least &&
      technique.frequency_kHz <= most &&
      technique.target_flaw_mm.depth >= depth_mm.least &&
      technique.target_flaw_mm.depth <= depth_mm.most
  )
  const of = 'crack against notch of its size'
  if (found === undefined)
    return factor(of, 1, 'no approved response ratio holds here: a crack may answer more weakly than a notch', false)
  const share = Math.max(0.01, found.ratio - ONE_SIDED_95 * found.spread)
  return factor(of, share, `${found.name}: ${found.ratio} less 1.645 × ${found.spread}, 19 of 20 cracks lie above it`)
}

function metalFactor(worst: Worst, flaw: PlannedFlaw): Result<Factor> {
  const { metal, sheet, inPart } = worst
  const { conductivity, permeability } = metal
  let least = 1
  for (const sigma of new Set([conductivity.low, conductivity.high])) {
    for (const mu of new Set([permeability.low, permeability.high])) {
      const answer = answerOf(worst, flaw, metalAt(sigma, mu))
      if (isRefusal(answer)) return answer
      least = Math.min(least, answer.amplitude_ohm / inPart.amplitude_ohm)
    }
  }
  const isKnown = conductivity.low < conductivity.high && sheet.technique.allowed?.temperature_C !== undefined
  return factor(
    'conductivity and temperature',
    least,
    `modeled at the ends of ${metal.source}${sheet.technique.allowed?.temperature_C === undefined ? '; temperature not stated' : ''}`,
    isKnown
  )
}

function wearFactor(worst: Worst, flaw: PlannedFlaw): Result<Factor> {
  const of = 'worn tape or wear face'
  const wear_mm = worst.sheet.technique.allowed?.wear_mm
  if (wear_mm === undefined) return factor(of, 1, 'technique.allowed.wear_mm is not stated', false)
  const answer = answerOf({ driven: lifted(worst.driven, 1e-3 * wear_mm) }, flaw, usualMetal(worst.metal))
  if (isRefusal(answer)) return answer
  return factor(of, answer.amplitude_ohm / worst.inPart.amplitude_ohm, `modeled: ${wear_mm} mm more lift-off`)
}

/** All of the probe stands farther off. */
const lifted = ({ coil, pickUps, ...rest }: Driven, rise_m: number): Driven => ({
  ...rest,
  coil: { ...coil, liftOff: meters(coil.liftOff + rise_m) },
  ...(pickUps === undefined ? {} : { pickUps: { ...pickUps, liftOff: meters(pickUps.liftOff + rise_m) } })
})

function oversizeFactor({ technique: { oversize } }: HoleSheet): Factor {
  const of = 'oversize hole'
  if (oversize === undefined) return factor(of, 1, 'no hole may be wider than that of the reference standard')
  const { max_loss_dB: loss, shown_harmless_to_mm: harmless, source } = oversize
  if (loss !== undefined)
    return factor(of, pow(10, -loss / 20), `the largest loss that the technique allows: ${loss} dB`)
  return factor(of, 1, `shown harmless to ${harmless} mm: ${source}`)
}

const driftFactor = ({ technique: { recheck_allowance } }: HoleSheet): Factor =>
  factor('drift to the next recheck', 1 - recheck_allowance.amplitude, 'recheck_allowance.amplitude')

/** The best of the revolutions that pass the flaw, where they pass it at their worst: a pitch apart and anyhow placed. */
function pitchFactor({ technique: { max_pitch_mm } }: HoleSheet, along: readonly Seen[]): Factor {
  const pitch = 1e-3 * max_pitch_mm
  const most = Math.max(...along.map(({ size }) => size))
  const starts = Array.from({ length: 20 }, (_, i) => (i / 20) * pitch)
  const bests = starts.map((start) => bestOf(along, start, pitch))
  return factor(
    'between two revolutions',
    Math.min(...bests) / most,
    `modeled at the largest pitch, ${max_pitch_mm} mm`
  )
}

function bestOf(along: readonly Seen[], start: number, pitch: number): number {
  const reach = along[along.length - 1]!.at
  let best = 0
  for (let at = start - pitch * Math.ceil((start + reach) / pitch); at <= reach; at += pitch)
    best = Math.max(best, sizeAt(along, at))
  return best
}

/** Straight between the places; alike on both sides where only one was computed, nothing beyond the ends. */
function sizeAt(along: readonly Seen[], place: number): number {
  const at = along[0]!.at < 0 ? place : Math.abs(place)
  const next = along.findIndex((one) => one.at >= at)
  if (next < 0) return 0
  const [before, after] = [along[next - 1], along[next]!]
  if (before === undefined) return at < after.at ? 0 : after.size
  return before.size + ((after.size - before.size) * (at - before.at)) / (after.at - before.at)
}
