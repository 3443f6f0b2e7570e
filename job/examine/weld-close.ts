import type { Refusal } from '@trueloop/ground/refusal'
import {
  type ExamineEvent,
  type Following,
  isPlateChange,
  type Pair,
  type Part,
  type PartRule,
  type Stretch,
  type Threshold,
  thresholdOf
} from '../interpret/index.ts'
import type { Dropped, Travel } from '../signal/index.ts'
import type { CoatingMet } from './coating-profile.ts'
import type { Examination } from './examination.ts'
import { checkFrequency, checkSetup } from './setup.ts'
import type { TrackCoating } from './weld-coating.ts'
import { featuresIn, trackIndication } from './weld-indication.ts'
import type { WeldExamination } from './weld-input.ts'
import { trackNotes } from './weld-notes.ts'
import { clipped, deadSignal, tooMany, tooNoisy } from './weld-refusals.ts'
import { standingIn } from './weld-standing.ts'
import { coatingRefused, coatingStated, parentOf, positionOf, speedOf } from './weld-stated.ts'
import type { TrackStream } from './weld-stream.ts'
import { trackZones } from './weld-zones.ts'

/** Number of the method; changes whenever a finding changes. */
export const WELD_METHOD = 8

export interface GatheredTrack {
  readonly track: TrackStream
  readonly coating: TrackCoating
  readonly travel: Travel
  readonly step_m: number
  readonly numbers: Following
  readonly drops: readonly Dropped[]
}

/** What the noise of a track allows. */
interface NoiseMet {
  readonly met: CoatingMet
  /** answer of the alarm slot under the middle of the coating, and its direction */
  readonly typical: number
  readonly slots_rad: number
  readonly spread: number
  /** noise of the block, counted in that answer */
  readonly reference: number
  readonly threshold: Threshold
}

function noiseMet({ technique, standardization, track: place }: WeldExamination, gathered: GatheredTrack): NoiseMet {
  const { coating, track } = gathered
  const met = coating.profile.met()
  const typical_mm = met.median_mm ?? place.coating_mm ?? coating.least_mm
  const typical = coating.answerAt(typical_mm)
  const spread = track.spread()
  const reference = standardization.noise.matched / typical
  const threshold = thresholdOf(reference, spread, technique.alarm.share)
  return { met, typical, slots_rad: coating.slotsAngle(typical_mm), spread, reference, threshold }
}

function refusedBy(
  input: WeldExamination,
  { track, coating, travel }: GatheredTrack,
  { threshold, spread, reference }: NoiseMet
): readonly Refusal[] {
  const atLimit = travel.clipped + travel.absoluteClipped
  return [
    ...checkSetup(input.standardization, input.equipment).refused,
    ...checkFrequency(input.standardization, input.technique),
    ...(threshold.tooNoisy ? [tooNoisy(spread)] : []),
    ...(atLimit > 0 ? [clipped(atLimit)] : []),
    ...(track.tracker.overflow ? [tooMany()] : []),
    ...deadSignal(track.channels, spread / reference),
    ...coatingRefused(input, coating)
  ]
}

/**
 * The final judgement of one track: parts that stand out by the threshold of its own noise, the plate's own changes taken
 * off and named in the notes, stretches that were not examined with their reasons. Refuses nothing: what is wrong with
 * set-up, frequency, noise, limits of the recording or coating stands in `refusals`, and withholds sizes.
 */
export function closeTrack(
  input: WeldExamination,
  gathered: GatheredTrack
): { readonly events: readonly ExamineEvent[]; readonly examination: Examination } {
  const { track, coating, travel, step_m } = gathered
  const { technique, track: place } = input
  const settled = track.tracker.close()
  const noise = noiseMet(input, gathered)
  const rule = ruleOf(input, gathered, noise.threshold.value)
  const standing = standingIn(settled.stretches, rule, { numbers: gathered.numbers, slots_rad: noise.slots_rad })
  markNull(gathered, standing.pairs[0], settled.stretches[0])
  markStands(gathered, noise.typical)
  const refused = refusedBy(input, gathered, noise)
  const zones = trackZones(
    {
      ...{ id: place.id, length_m: place.length_mm * 1e-3, step_m, travel, unusable: track.unusable },
      field_m: technique.field_width_mm * 1e-3
    },
    refused.map((refusal) => refusal.found)
  )
  const parent = parentOf(input)
  const looked = { input, coating, parent, step_m, sense: travel.sense }
  const isPlates = (part: Part): boolean => isPlateChange(featuresIn(part, looked), gathered.numbers)
  const { unknown } = checkSetup(input.standardization, input.equipment)
  const withheld = [...unknown, ...refused].map((one) => one.found)
  const sight = { ...looked, noise: noise.threshold.noise, zones, withheld }
  const plate = standing.parts.filter(isPlates)
  const examination: Examination = {
    ...namesOf(input),
    position: positionOf(input, gathered),
    zones: zones.map((zone) => ({ ...zone, signalToNoise: sight.noise > 0 ? 1 / sight.noise : 0 })),
    coverage: { samples: travel.samples, revolutions: 0, revolutionsInMetal: 0, contact: [], speed: speedOf(track) },
    dropped: gathered.drops.map((drop) => ({ ...drop })),
    noise: { matched: noise.spread, threshold: rule.least, alarm: technique.alarm.share, points: 0 },
    coating: coatingStated(input, coating, parent),
    indications: standing.parts.filter((part) => !isPlates(part)).map((part, i) => trackIndication(part, i + 1, sight)),
    refusals: [...refused, ...unknown],
    notes: trackNotes({ steps: standing.steps, plate, stood: travel.stood, input, step_m, coating, met: noise.met })
  }
  return { events: [...settled.events, ...standing.withdrawn], examination }
}

const namesOf = ({ track, recording, standardizationName }: WeldExamination) => ({
  kind: 'examination' as const,
  version: 1 as const,
  method: WELD_METHOD,
  application: 'weld' as const,
  subject: track.id,
  amplitudeUnit: 'notch' as const,
  recording,
  standardization: standardizationName
})

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
