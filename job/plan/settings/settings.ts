import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import type { CrackStatement, Metal } from '@trueloop/metal/fields'
import { refuse } from '../codes.ts'
import type { HoleSheet, Sheet } from '../sheet.ts'
import { type AcrossAnswer, acrossAnswer, type Driven, type ModeledAnswer, modeledAnswer } from './answer.ts'
import { type BandAdvice, bandAdvice } from './band.ts'
import { coilOf, inductanceOf, notAHole, pickUpsOf } from './coil.ts'
import { targetIn } from './flaws.ts'
import { type FrequencyAdvice, type FrequencyPoint, frequencyAdvice, frequencyPoint, usualSweep } from './frequency.ts'
import { type Loop, loopAgainst, pairLoop, twinLoop } from './loop.ts'
import { conductivityText, metalFor, type PlannedMetal } from './metal.ts'
import { type MotionAdvice, motionAdvice } from './motion.ts'
import { type Proposal, proposalFor } from './proposals.ts'
import { type SettingWarning, techniqueWarnings, zoneWarnings } from './warnings.ts'
import { alarmNotchAnswer, usualMetal, type WorstCase, worstCase } from './worst.ts'
import { type PlannedZones, withoutModel, zonesOf } from './zone.ts'

export interface ZoneSettings {
  readonly zones: PlannedZones
  readonly metal: { readonly name: string; readonly conductivity: string; readonly source: string }
  readonly notes: readonly string[]
  /** At the frequency of the technique; why there is none where the model does not hold. */
  readonly at: FrequencyPoint | string
  readonly frequency: FrequencyAdvice
  readonly proposal?: Proposal
  /** Width of the signal across the flaw by the model, mm: beside that which the lobe spacing states. */
  readonly modeled_width_mm?: number
  /** Distance of the lobes by the model, mm, where the pick-ups are stated. */
  readonly modeled_lobe_spacing_mm?: number
  /** What a scan across the flaw draws; absent where the model holds for flaw or alarm notch not. */
  readonly loop?: Loop
  readonly worst: WorstCase | string
  readonly model?: CrackStatement
  readonly warnings: readonly SettingWarning[]
}

/** What physics says of a technique. Nothing in it is a setting before a person has confirmed it. */
export interface Settings {
  readonly component: string
  readonly procedure: string
  readonly frequency_kHz: number
  readonly rotation_rpm: number
  readonly alarm: { readonly notch: string; readonly share: number }
  readonly target_mm: { readonly depth: number; readonly length: number }
  readonly zones: readonly ZoneSettings[]
  /** Zones of the technique that no model covers. */
  readonly without_model: readonly string[]
  readonly bands: readonly BandAdvice[]
  readonly motion: MotionAdvice
  readonly warnings: readonly SettingWarning[]
}

/** Above this share of the pulse a fixed high-pass leaves too little to examine with. */
const LOSS_REFUSED = 0.3

/**
 * Settings for a technique and the flaw it seeks, in each zone: worked out, not chosen. The flaw is closed and the wall flat in the
 * model, and every amplitude is a ratio of two modeled ones.
 * Refuses: plan/no-settings (not a hole), plan/no-winding, plan/zone-without-metal, plan/metal-unknown,
 * plan/filter-takes-flaw, and what metal refuses of coil and conductivity.
 */
export function settingsOf(sheet: Sheet, frequencies_kHz: readonly number[] = usualSweep): Result<Settings> {
  if (!('holes' in sheet)) return notAHole(sheet.technique.application)
  const coil = coilOf(sheet)
  if (isRefusal(coil)) return coil
  const zones = zonesOf(sheet)
  if (isRefusal(zones)) return zones
  const standard = metalFor(sheet.reference_standard.metal, sheet.technique.allowed)
  if (isRefusal(standard)) return standard
  const l0 = inductanceOf(coil)
  if (isRefusal(l0)) return l0
  const bands = diametersOf(sheet).map((diameter_mm) => bandAdvice(sheet, 1e-3 * diameter_mm))
  const taken = bands.find(({ high_pass_loss = 0 }) => high_pass_loss > LOSS_REFUSED)
  if (taken !== undefined) return filterTakesFlaw(sheet, taken)
  const motion = motionAdvice(sheet)
  const driven = {
    ...{ coil, pickUps: pickUpsOf(sheet), metal: usualMetal(standard) },
    frequency_Hz: 1000 * sheet.technique.frequency_kHz
  }
  const notch = alarmNotchAnswer(sheet, driven)
  const planned = { sheet, driven, standard, inductance_H: l0, frequencies_kHz, notch }
  const rows: ZoneSettings[] = []
  for (const row of zones.map((one) => zoneSettings(planned, one))) {
    if (isRefusal(row)) return row
    rows.push(row)
  }
  const { technique, job } = sheet
  return {
    component: job.component,
    procedure: `${technique.procedure.id}, revision ${technique.procedure.revision}`,
    frequency_kHz: technique.frequency_kHz,
    rotation_rpm: technique.rotation_rpm,
    alarm: { ...technique.alarm },
    target_mm: { ...technique.target_flaw_mm },
    zones: rows,
    without_model: withoutModel(sheet),
    bands,
    motion,
    warnings: techniqueWarnings(sheet, { bands, motion, coil })
  }
}

interface Planned {
  readonly sheet: HoleSheet
  /** The probe over the reference standard. */
  readonly driven: Driven
  readonly standard: PlannedMetal
  readonly inductance_H: number
  readonly frequencies_kHz: readonly number[]
  readonly notch: Result<ModeledAnswer>
}

function zoneSettings(planned: Planned, zones: PlannedZones): Result<ZoneSettings> {
  const { sheet, standard } = planned
  const metal = metalFor(zones.metal, sheet.technique.allowed)
  if (isRefusal(metal)) return metal
  const modeled = modeledIn(planned, zones, metal)
  const { at, worst, frequency } = modeled
  const view = { zones, metal, standard, window: frequency.window }
  return {
    ...modeled,
    zones,
    warnings: zoneWarnings(sheet, {
      ...view,
      lobes_mm: modeled.modeled_lobe_spacing_mm,
      at: typeof at === 'string' ? undefined : at,
      worst: typeof worst === 'string' ? undefined : worst
    })
  }
}

function modeledIn(
  planned: Planned,
  zones: PlannedZones,
  metal: PlannedMetal
): Omit<ZoneSettings, 'zones' | 'warnings'> {
  const { sheet, driven } = planned
  const { technique } = sheet
  const flaw = targetIn(sheet, zones)
  const usual = usualMetal(metal)
  const least = technique.min_separation_deg
  const sweeping = {
    ...{ flaw, coil: driven.coil, metal: usual },
    ...{ inductance_H: planned.inductance_H, min_separation_deg: least }
  }
  const answer = modeledAnswer(flaw, { ...driven, metal: usual })
  const worst = isRefusal(answer) ? answer : worstCase({ ...planned, zones, metal, inPart: answer })
  const proposal = proposalFor(metal.base)
  return {
    metal: { name: metal.name, conductivity: conductivityText(metal), source: metal.source },
    notes: metal.notes,
    at: frequencyPoint(sweeping, technique.frequency_kHz),
    frequency: frequencyAdvice(sweeping, planned.frequencies_kHz),
    ...(proposal === undefined ? {} : { proposal }),
    ...(isRefusal(answer) ? {} : { model: answer.statement, ...shapeOf(planned, answer, usual) }),
    worst: isRefusal(worst) ? whyNot(worst) : worst
  }
}

const whyNot = ({ found, needed }: Refusal): string => `found ${found}; needed ${needed}`

function shapeOf({ sheet, driven, notch }: Planned, flaw: ModeledAnswer, metal: Metal): Shape {
  const seen = acrossAnswer(flaw, { ...driven, metal })
  if (isRefusal(seen)) return {}
  const unit = isRefusal(notch) ? notch : acrossAnswer(notch, driven)
  const spacing = 1e-3 * sheet.technique.lobe_spacing_mm
  const loop = ({ points }: AcrossAnswer) =>
    driven.pickUps === undefined ? twinLoop(points, spacing) : pairLoop(points)
  return {
    modeled_width_mm: 1000 * seen.width_m,
    ...(seen.lobe_spacing_m === undefined ? {} : { modeled_lobe_spacing_mm: 1000 * seen.lobe_spacing_m }),
    ...(isRefusal(unit) ? {} : { loop: loopAgainst(loop(seen), loop(unit)) })
  }
}

type Shape = Pick<ZoneSettings, 'modeled_width_mm' | 'modeled_lobe_spacing_mm' | 'loop'>

const diametersOf = ({ holes }: HoleSheet): readonly number[] =>
  [...new Set(holes.map(({ diameter_mm }) => diameter_mm))].sort((a, b) => a - b)

const filterTakesFlaw = ({ technique }: HoleSheet, { diameter_mm, high_pass_loss = 0 }: BandAdvice): Result<never> =>
  refuse('plan/filter-takes-flaw', {
    found: `a high-pass of ${technique.filter_corners?.high_pass_Hz} Hz that takes ${(100 * high_pass_loss).toFixed(0)} % of the pulse of a notch at ${technique.rotation_rpm} rpm in a hole of ${diameter_mm} mm`,
    needed: `at most ${100 * LOSS_REFUSED} %`,
    remedy: 'set a lower corner, or turn faster: corners scale with speed × diameter / footprint',
    where: { path: 'technique.filter_corners.high_pass_Hz' }
  })
