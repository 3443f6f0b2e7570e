import { atan2, PI } from '@trueloop/ground/numerics'
import type { Refusal } from '@trueloop/ground/refusal'
import { proposalOf, sizeOf } from '../evaluate/index.ts'
import { type Evidence, type ExamineEvent, type Stretch, thresholdOf } from '../interpret/index.ts'
import type { Dropped, Travel } from '../signal/index.ts'
import type { Examination, Indication, ZoneResult } from './examination.ts'
import { checkFrequency, checkSetup } from './setup.ts'
import type { WeldExamination } from './weld-input.ts'
import { type Part, partsOf } from './weld-parts.ts'
import { clipped, deadSignal, nullOnFlaw, tooMany, tooNoisy } from './weld-refusals.ts'
import type { TrackStream } from './weld-stream.ts'

/** Number of the method; changes whenever a finding changes. */
export const WELD_METHOD = 2

export interface GatheredTrack {
  readonly track: TrackStream
  readonly travel: Travel
  readonly step_m: number
  readonly drops: readonly Dropped[]
}

/** A skeleton states no size of its own: the coating under the probe is not known to it. */
const SIZE_WITHHELD = 'coating along the track not measured'

export function closeTrack(
  input: WeldExamination,
  gathered: GatheredTrack
): { readonly events: readonly ExamineEvent[]; readonly examination: Examination } {
  const { track, travel, step_m } = gathered
  const { technique, standardization } = input
  const settled = track.tracker.close()
  const background = track.background()
  const setup = checkSetup(standardization, input.equipment)
  const threshold = thresholdOf(standardization.noise.matched, background.spread, technique.alarm.share)
  const least = Math.max(threshold.value, 0.5 * technique.alarm.share)
  const rule = {
    null_: background.level,
    field: track.field,
    screen: track.screen,
    alarm: technique.alarm.share,
    least
  }
  const found = settled.stretches.map((one) => ({ one, parts: partsOf(one, rule) }))
  const withdrawn = found.filter(({ parts }) => parts.length === 0)
  const refused = [
    ...setup.refused,
    ...checkFrequency(standardization, technique),
    ...(threshold.tooNoisy ? [tooNoisy(background.spread)] : []),
    ...(travel.clipped > 0 ? [clipped(travel.clipped)] : []),
    ...(track.tracker.overflow || settled.stretches.some(isCut) ? [tooMany()] : []),
    ...nullOnFlaw(track.lowest(), technique.alarm.share),
    ...deadSignal(track.channels, background.spread / standardization.noise.matched)
  ]
  const withheld = [SIZE_WITHHELD, ...[...setup.unknown, ...setup.refused].map((one) => one.found)]
  const sight = { input, gathered, noise: threshold.noise, withheld }
  const events = [
    ...settled.events,
    ...withdrawn.map(({ one }) => ({
      kind: 'withdrawn' as const,
      id: one.id,
      reason: 'does not stand out of its surroundings by the threshold that the noise asks for'
    }))
  ]
  const examination: Examination = {
    kind: 'examination',
    version: 1,
    method: WELD_METHOD,
    application: 'weld',
    subject: input.track.id,
    amplitudeUnit: 'notch',
    recording: input.recording,
    standardization: input.standardizationName,
    position: {
      axial: 'encoder along the track',
      axialUncertainty_m: step_m,
      angle: 'position',
      entry: travel.from * step_m * travel.sense,
      exit: travel.to * step_m * travel.sense
    },
    zones: [zoneOf(input, gathered, refused)],
    coverage: {
      samples: travel.samples,
      revolutions: 0,
      revolutionsInMetal: 0,
      contact: [],
      speed: {
        least: Number.isFinite(track.speed.least) ? track.speed.least : 0,
        mean: track.speed.units > 0 ? track.speed.sum / track.speed.units : 0,
        most: track.speed.most,
        unit: 'm/s'
      }
    },
    dropped: gathered.drops.map((drop) => ({ ...drop })),
    noise: { matched: background.spread, threshold: least, alarm: technique.alarm.share, points: 0 },
    indications: found.flatMap(({ parts }) => parts).map((part, i) => indicationOf(part, i + 1, sight)),
    refusals: [...refused, ...setup.unknown],
    notes: [
      'coating is neither measured nor corrected for by this recipe: a comparison with slots under the coating of the reference run only'
    ]
  }
  return { events, examination }
}

function zoneOf(
  input: WeldExamination,
  { track, travel, step_m }: GatheredTrack,
  refused: readonly Refusal[]
): ZoneResult {
  const length = input.track.length_mm * 1e-3
  const ends = [travel.from * step_m * travel.sense, travel.to * step_m * travel.sense]
  const from = Math.max(0, Math.min(ends[0]!, ends[1]!))
  const to = Math.min(length, Math.max(ends[0]!, ends[1]!))
  const field = input.technique.field_width_mm * 1e-3
  const why = refused.map((refusal) => refusal.found)
  if (from > field || length - to > field) {
    why.push(
      `the run reaches from ${(1e3 * from).toFixed(1)} to ${(1e3 * to).toFixed(1)} mm of ${input.track.length_mm} mm`
    )
  }
  let missing = 0
  for (const gap of track.unusable) {
    const a = Math.max(gap.from, travel.from)
    const b = Math.min(gap.to, travel.to)
    if (b <= a) continue
    missing += (b - a) * step_m
    if ((b - a) * step_m > 0.5 * field) why.push(`${gap.reason}, over ${(1e3 * (b - a) * step_m).toFixed(1)} mm`)
  }
  const covered = Math.max(0, (to - from - missing) / length)
  const state = why.length === 0 ? ('examined' as const) : ('not examined' as const)
  return { zone: `track ${input.track.id}`, z0_m: 0, z1_m: length, state, covered, why }
}

interface Sight {
  readonly input: WeldExamination
  readonly gathered: GatheredTrack
  readonly noise: number
  readonly withheld: readonly string[]
}

function indicationOf(part: Part, number: number, { input, gathered, noise, withheld }: Sight): Indication {
  const { step_m, travel } = gathered
  const { level } = part
  const ends = halfEnds(part)
  const place = (point: number) => point * step_m * travel.sense
  const [a, b] = [place(ends.from), place(ends.to)]
  const z0_m = Math.min(a, b)
  const z1_m = Math.max(a, b)
  const at = part.peak - part.drawnFrom
  const phase_rad = atan2(part.y[at]! - part.base, part.x[at]! - part.x[0]!)
  const size = sizeOf(
    { amplitude: level, place: 'track', extent_m: z1_m - z0_m },
    input.standardization.notches,
    withheld
  )
  const crossedAlarm = level >= input.technique.alarm.share
  return {
    id: `${input.track.id}/${number}`,
    zone: `track ${input.track.id}`,
    layer: 0,
    place: 'track',
    amplitude: level,
    matched: level,
    phase_rad: phase_rad < 0 ? phase_rad + PI : phase_rad,
    lobeOrder: 1,
    angle_rad: 'unknown',
    z_m: place(part.peak),
    z0_m,
    z1_m,
    ruler: part.peak,
    revolutions: 0,
    signalToNoise: noise > 0 ? level / noise : 0,
    crossedAlarm,
    class: crossedAlarm ? 'relevant' : 'undecided',
    evidence: evidenceOf(level, crossedAlarm),
    size,
    proposal: proposalOf(crossedAlarm ? 'relevant' : 'undecided', withheld.slice(1)),
    snippet: { step: step_m, stepUnit: 'm', x: [...part.x], y: [...part.y], along: [], alongFrom: 0 }
  }
}

function evidenceOf(level: number, crossed: boolean): readonly Evidence[] {
  const sentence = `Its vertical signal is ${level.toFixed(2)} of the named slot, ${crossed ? 'at or above' : 'below'} the alarm level.`
  return [{ what: 'amplitude', sentence, speaks: crossed ? 'for' : 'neither' }]
}

/** Ruler points at which the level passes half its height above the surroundings: first and last time, linear between points. */
function halfEnds({ from, to, drawnFrom, y, level, base }: Part): { readonly from: number; readonly to: number } {
  const half = 0.5 * (level + base)
  const inside = (i: number) => y[i]! >= half && i >= from - drawnFrom && i <= to - drawnFrom
  const first = y.findIndex((_, i) => inside(i))
  const last = y.findLastIndex((_, i) => inside(i))
  const share = (inner: number, outer: number | undefined) =>
    outer === undefined || outer >= half ? 0 : (inner - half) / (inner - outer)
  return {
    from: drawnFrom + first - share(y[first]!, y[first - 1]),
    to: drawnFrom + last + share(y[last]!, y[last + 1])
  }
}

/** A stretch so long that its signal could not be kept to the end. */
const isCut = ({ from, to, y }: Stretch): boolean => to - from + 1 > y.length
