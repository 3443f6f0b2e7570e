import { isRefusal, type Refusal } from '@trueloop/ground/refusal'
import {
  drawnOf,
  type ExamineEvent,
  type Following,
  type Part,
  type PartRule,
  pairsOf,
  partOfPair,
  partsOf,
  type Step,
  type Stretch,
  stepOf,
  thresholdOf
} from '../interpret/index.ts'
import type { Dropped, Travel } from '../signal/index.ts'
import type { ParentReading } from '../standardize/index.ts'
import type { Examination } from './examination.ts'
import { checkFrequency, checkSetup } from './setup.ts'
import type { TrackCoating } from './weld-coating.ts'
import { trackIndication } from './weld-indication.ts'
import type { WeldExamination } from './weld-input.ts'
import { trackNotes } from './weld-notes.ts'
import {
  clipped,
  coatingOutside,
  coatingUnknown,
  deadSignal,
  nullOnFlaw,
  partDiffers,
  tooMany,
  tooNoisy
} from './weld-refusals.ts'
import type { TrackStream } from './weld-stream.ts'
import { trackZones } from './weld-zones.ts'

/** Number of the method; changes whenever a finding changes. */
export const WELD_METHOD = 4

export interface GatheredTrack {
  readonly track: TrackStream
  readonly coating: TrackCoating
  readonly travel: Travel
  readonly step_m: number
  readonly numbers: Following
  readonly drops: readonly Dropped[]
}

export function closeTrack(
  input: WeldExamination,
  gathered: GatheredTrack
): { readonly events: readonly ExamineEvent[]; readonly examination: Examination } {
  const { track, coating, travel, step_m } = gathered
  const { technique, standardization } = input
  const settled = track.tracker.close()
  const setup = checkSetup(standardization, input.equipment)
  const met = coating.profile.met()
  const typical_mm = met.median_mm ?? input.track.coating_mm ?? coating.least_mm
  const typical = coating.answerAt(typical_mm)
  const slots_rad = coating.slotsAngle(typical_mm)
  const spread = track.spread()
  const reference = standardization.noise.matched / typical
  const threshold = thresholdOf(reference, spread, technique.alarm.share)
  const rule = ruleOf(input, gathered, threshold.value)
  const found = settled.stretches.map((one) => ({
    one,
    parts: partsOf(one, rule),
    step: stepFrom(one, rule, { gathered, slots_rad })
  }))
  const steps = found.flatMap(({ step }) => (step === undefined ? [] : [step]))
  const pairs = pairsOf(steps, gathered.numbers.alike)
  // the first that falls and does not come back: what the null was taken from before it was no sound plate
  const lone = pairs.slice(0, 1).filter(({ to, from }) => to === undefined && from.height <= -technique.alarm.share)
  markStands(gathered, typical)
  const refused = [
    ...setup.refused,
    ...checkFrequency(standardization, technique),
    ...(threshold.tooNoisy ? [tooNoisy(spread)] : []),
    ...(travel.clipped + travel.absoluteClipped > 0 ? [clipped(travel.clipped + travel.absoluteClipped)] : []),
    ...(track.tracker.overflow ? [tooMany()] : []),
    ...lone.map(({ from }) => nullOnFlaw(-from.height)),
    ...deadSignal(track.channels, spread / reference),
    ...coatingRefused(input, coating)
  ]
  const length_m = input.track.length_mm * 1e-3
  const field_m = technique.field_width_mm * 1e-3
  const zones = trackZones(
    { id: input.track.id, length_m, step_m, field_m, travel, unusable: track.unusable },
    refused.map((refusal) => refusal.found)
  )
  const parts = [
    ...found.flatMap((one) => one.parts),
    ...pairs.map((pair) => partOfPair(pair, drawnOf(pair.from.stretch))).filter(({ level }) => level >= rule.least)
  ].sort((a, b) => a.from - b.from)
  const parent = parentOf(input)
  const withheld = [...setup.unknown, ...refused].map((one) => one.found)
  const sight = { input, coating, parent, step_m, sense: travel.sense, noise: threshold.noise, zones, withheld }
  const stated = coatingStated(input, gathered, parent)
  const examination: Examination = {
    kind: 'examination',
    version: 1,
    method: WELD_METHOD,
    application: 'weld',
    subject: input.track.id,
    amplitudeUnit: 'notch',
    recording: input.recording,
    standardization: input.standardizationName,
    position: positionOf(input, gathered),
    zones: zones.map((zone) => ({ ...zone, signalToNoise: threshold.noise > 0 ? 1 / threshold.noise : 0 })),
    coverage: { samples: travel.samples, revolutions: 0, revolutionsInMetal: 0, contact: [], speed: speedOf(track) },
    dropped: gathered.drops.map((drop) => ({ ...drop })),
    noise: { matched: spread, threshold: rule.least, alarm: technique.alarm.share, points: 0 },
    coating: stated,
    indications: parts.map((part, i) => trackIndication(part, i + 1, sight)),
    refusals: [...refused, ...setup.unknown],
    notes: trackNotes({ steps, stood: travel.stood, input, step_m, coating, met })
  }
  return {
    events: [
      ...settled.events,
      ...withdrawnOf(
        found,
        pairs.map(({ from }) => from.stretch)
      )
    ],
    examination
  }
}

function ruleOf({ technique }: WeldExamination, { track, numbers }: GatheredTrack, threshold: number): PartRule {
  const alarm = technique.alarm.share
  return {
    field: track.field,
    screen: numbers.screen * alarm,
    alarm,
    least: Math.max(threshold, numbers.least * alarm),
    around: Math.round(numbers.around * track.field)
  }
}

function stepFrom(
  stretch: Stretch,
  rule: PartRule,
  { gathered: { numbers }, slots_rad }: { readonly gathered: GatheredTrack; readonly slots_rad: number }
): Step | undefined {
  const { reach, sharp, own } = numbers
  return stepOf(stretch, rule, { reach: Math.round(reach * rule.field), sharp, slots_rad, own_rad: own * DEG })
}

const DEG = 0.017453292519943295

interface Found {
  readonly one: Stretch
  readonly parts: readonly Part[]
}

const withdrawnOf = (found: readonly Found[], ends: readonly Stretch[]): readonly ExamineEvent[] =>
  found
    .filter(({ one, parts }) => parts.length === 0 && !ends.includes(one))
    .map(({ one }) => ({
      kind: 'withdrawn' as const,
      id: one.id,
      reason: 'does not stand out of its surroundings by the threshold that the noise asks for'
    }))

/** Where the encoder stood while the signal went on, places behind are not known. */
function markStands({ track, travel, numbers }: GatheredTrack, typical: number): void {
  const screen = numbers.screen * typical
  const lost = travel.stood.find(({ moved }) => Math.max(moved.x, moved.y) * track.turnSize > screen)
  if (lost === undefined) return
  track.mark({
    from: lost.at,
    to: travel.to,
    reason: 'the encoder stood while the signal went on: places behind it are not known'
  })
}

function coatingRefused({ track, parent }: WeldExamination, coating: TrackCoating): readonly Refusal[] {
  const part = parent !== undefined && isRefusal(parent) && parent.code === 'standardize/part-differs'
  const differs = part ? [partDiffers((parent as Refusal).found)] : []
  if (coating.basis === 'unknown') return [...differs, coatingUnknown()]
  if (coating.basis === 'measured' || coating.isGivenInside) return differs
  return [...differs, coatingOutside(track.coating_mm!, coating.least_mm, coating.most_mm)]
}

const parentOf = ({ parent }: WeldExamination): ParentReading | undefined =>
  parent === undefined || isRefusal(parent) ? undefined : (parent as ParentReading)

function positionOf({ places }: WeldExamination, { travel, step_m }: GatheredTrack): Examination['position'] {
  const by = places?.by ?? 'encoder'
  const axial = { encoder: 'encoder along the track', speed: 'time at a stated speed', marks: 'marks along the track' }[
    by
  ]
  return {
    axial,
    axialUncertainty_m: by === 'encoder' ? step_m : 'unknown',
    angle: 'position',
    entry: travel.from * step_m * travel.sense,
    exit: travel.to * step_m * travel.sense
  }
}

const speedOf = ({ speed }: TrackStream) => ({
  least: Number.isFinite(speed.least) ? speed.least : 0,
  mean: speed.units > 0 ? speed.sum / speed.units : 0,
  most: speed.most,
  unit: 'm/s'
})

function coatingStated(
  { track, parent: read }: WeldExamination,
  { coating }: GatheredTrack,
  parent: ParentReading | undefined
): NonNullable<Examination['coating']> {
  const against = read !== undefined && isRefusal(read) ? [(read as Refusal).found] : []
  return {
    basis: coating.basis,
    ...(coating.basis === 'given' ? { given_mm: track.coating_mm! } : {}),
    ...(coating.basis === 'measured' ? { apparent: coating.profile.met() } : {}),
    ...(parent === undefined ? {} : { parent }),
    parentWhy: parent === undefined ? (against[0] ?? 'not recorded') : 'recorded',
    shims_mm: coating.response.shims.map(({ shim_mm }) => shim_mm)
  }
}
