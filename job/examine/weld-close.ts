import {
  drawnOf,
  type ExamineEvent,
  type Following,
  isPlateChange,
  type Pair,
  type Part,
  type PartRule,
  pairsOf,
  partOfPair,
  partsOf,
  type Step,
  type StepRule,
  type Stretch,
  stepOf,
  thresholdOf
} from '../interpret/index.ts'
import type { Dropped, Travel } from '../signal/index.ts'
import type { Examination } from './examination.ts'
import { checkFrequency, checkSetup } from './setup.ts'
import type { TrackCoating } from './weld-coating.ts'
import { featuresIn, trackIndication } from './weld-indication.ts'
import type { WeldExamination } from './weld-input.ts'
import { trackNotes } from './weld-notes.ts'
import { clipped, deadSignal, tooMany, tooNoisy } from './weld-refusals.ts'
import { coatingRefused, coatingStated, parentOf, positionOf, speedOf } from './weld-stated.ts'
import type { TrackStream } from './weld-stream.ts'
import { trackZones } from './weld-zones.ts'

/** Number of the method; changes whenever a finding changes. */
export const WELD_METHOD = 7

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
  const found = settled.stretches.map((one) => {
    const parts = partsOf(one, rule)
    return { one, parts, step: stepFrom(one, rule, { gathered, slots_rad, parts }) }
  })
  const steps = found.flatMap(({ step }) => (step === undefined ? [] : [step]))
  const pairs = pairsOf(steps, gathered.numbers.alike)
  markNull(gathered, pairs[0], settled.stretches[0])
  markStands(gathered, typical)
  const refused = [
    ...setup.refused,
    ...checkFrequency(standardization, technique),
    ...(threshold.tooNoisy ? [tooNoisy(spread)] : []),
    ...(travel.clipped + travel.absoluteClipped > 0 ? [clipped(travel.clipped + travel.absoluteClipped)] : []),
    ...(track.tracker.overflow ? [tooMany()] : []),
    ...deadSignal(track.channels, spread / reference),
    ...coatingRefused(input, coating)
  ]
  const length_m = input.track.length_mm * 1e-3
  const field_m = technique.field_width_mm * 1e-3
  const zones = trackZones(
    { id: input.track.id, length_m, step_m, field_m, travel, unusable: track.unusable },
    refused.map((refusal) => refusal.found)
  )
  const parent = parentOf(input)
  const looked = { input, coating, parent, step_m, sense: travel.sense }
  const standing = [
    ...found.flatMap((one) => one.parts),
    ...pairs.map((pair) => partOfPair(pair, drawnOf(pair.from.stretch))).filter(({ level }) => level >= rule.least)
  ].sort((a, b) => a.from - b.from)
  const isPlates = (part: Part): boolean => isPlateChange(featuresIn(part, looked), gathered.numbers)
  const parts = standing.filter((part) => !isPlates(part))
  const withheld = [...setup.unknown, ...refused].map((one) => one.found)
  const sight = { ...looked, noise: threshold.noise, zones, withheld }
  const stated = coatingStated(input, coating, parent)
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
    notes: trackNotes({ steps, plate: standing.filter(isPlates), stood: travel.stood, input, step_m, coating, met })
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
    around: Math.round(numbers.around * track.field),
    narrow: numbers.narrow * track.field
  }
}

function stepFrom(
  stretch: Stretch,
  rule: PartRule,
  {
    gathered: { numbers },
    slots_rad,
    parts
  }: { readonly gathered: GatheredTrack } & Pick<StepRule, 'slots_rad' | 'parts'>
): Step | undefined {
  const { reach, sharp, own } = numbers
  return stepOf(stretch, rule, { reach: Math.round(reach * rule.field), sharp, slots_rad, own_rad: own * DEG, parts })
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

/**
 * Where the first thing that is met falls and does not come back, the null before it was of no sound plate: what lies
 * before was not examined. What lies behind counts from the plate that was reached.
 */
function markNull({ track, travel, numbers }: GatheredTrack, first: Pair | undefined, met: Stretch | undefined): void {
  if (first === undefined || first.to !== undefined || !first.from.isSharp) return
  if (first.from.height >= 0 || first.from.stretch !== met) return
  track.mark({
    from: travel.from,
    to: Math.ceil(first.from.at) + Math.round(numbers.reach * track.field),
    reason: 'the signal falls and does not come back: the null before was of no sound plate'
  })
}

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
