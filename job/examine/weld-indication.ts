import { atan2, PI } from '@trueloop/ground/numerics'
import { proposalOf, type TrackMeasured, trackSize } from '../evaluate/index.ts'
import { type Evidence, judgeTrack, type Part, type TrackFeatures, trackFeatures } from '../interpret/index.ts'
import type { ParentReading } from '../standardize/index.ts'
import type { Indication, ZoneResult } from './examination.ts'
import { isConfirmed, type TrackCoating } from './weld-coating.ts'
import type { WeldExamination } from './weld-input.ts'

export interface TrackSight {
  readonly input: WeldExamination
  readonly coating: TrackCoating
  readonly parent: ParentReading | undefined
  readonly step_m: number
  readonly sense: 1 | -1
  readonly noise: number
  readonly zones: readonly ZoneResult[]
  readonly withheld: readonly string[]
}

/** What of a part tells what it is, under the coating that it lies under. */
export function featuresIn(part: Part, sight: Omit<TrackSight, 'zones' | 'withheld' | 'noise'>): TrackFeatures {
  const { coating, input, step_m, sense } = sight
  const { technique, track } = input
  const apparent = part.coating[part.peak - part.drawnFrom] ?? Number.NaN
  const given = track.coating_mm ?? coating.least_mm
  return trackFeatures(part, {
    field: Math.round((technique.field_width_mm * 1e-3) / step_m),
    slots_rad: coating.slotsAngle(Number.isNaN(apparent) ? given : apparent),
    plateEnds: track.ends_with_plate === true ? [0, (sense * track.length_mm * 1e-3) / step_m] : []
  })
}

/** A part of a track as an indication: what it is taken for, how long and how deep, and what that rests on. */
export function trackIndication(part: Part, number: number, sight: TrackSight): Indication {
  const { input, step_m, sense, noise, withheld, zones } = sight
  const { technique, track } = input
  const place = (point: number) => point * step_m * sense
  const [a, b] = [place(part.half.from), place(part.half.to)]
  const [z0_m, z1_m] = [Math.min(a, b), Math.max(a, b)]
  const z_m = place(part.peak)
  const under = coatingUnder(part, sight)
  const crossedAlarm = part.level >= technique.alarm.share
  const features = featuresIn(part, sight)
  const mayClass = technique.may_class_by_phase_and_shape ?? []
  const judged = judgeTrack(features, { crossedAlarm, mayClass, moved: input.moved })
  const measured: TrackMeasured = {
    level: part.level,
    named: input.standardization.named,
    field_mm: technique.field_width_mm,
    ...(part.isWhole ? { length_mm: 1e3 * (z1_m - z0_m) } : {}),
    ...under.measured
  }
  const at = Math.max(0, Math.min(part.y.length - 1, part.peak - part.drawnFrom))
  const phase_rad = atan2(part.y[at]!, part.x[at]!)
  return {
    id: `${track.id}/${number}`,
    zone: zones.find((zone) => z_m >= zone.z0_m && z_m <= zone.z1_m)?.zone ?? `track ${track.id}`,
    layer: 0,
    place: 'track',
    amplitude: part.level,
    matched: part.level,
    phase_rad: phase_rad < 0 ? phase_rad + PI : phase_rad,
    lobeOrder: part.sense,
    angle_rad: 'unknown',
    z_m,
    z0_m,
    z1_m,
    ruler: part.peak,
    revolutions: 0,
    signalToNoise: noise > 0 ? part.level / noise : 0,
    crossedAlarm,
    class: judged.class,
    cause: judged.cause,
    evidence: [amplitude(part, crossedAlarm), under.evidence, ...judged.evidence],
    coating: under.stated,
    size: trackSize(measured, sight.coating.response.shims, withheld, input.study),
    proposal: proposalOf(judged.class, withheld, 'weld'),
    snippet: { step: step_m, stepUnit: 'm', x: [...part.x], y: [...part.y], along: [], alongFrom: 0 }
  }
}

function amplitude({ level, sense }: Part, crossed: boolean): Evidence {
  const way = sense > 0 ? '' : ', against the sense of the slots: a flaw across the track points so'
  return {
    what: 'amplitude',
    sentence: `It stands ${level.toFixed(2)} of the alarm slot under the local coating above the plate beside it, ${crossed ? 'at or above' : 'below'} the alarm level${way}.`,
    speaks: crossed ? 'for' : 'neither'
  }
}

interface Under {
  readonly coating_mm: number
  readonly measured: Pick<TrackMeasured, 'coating_mm' | 'thinnest_mm'>
  readonly stated: NonNullable<Indication['coating']>
  readonly evidence: Evidence
}

/** The coating that a part lies under, and whether its depth may be told by it. */
function coatingUnder(part: Part, { coating, parent, input }: TrackSight): Under {
  if (coating.basis !== 'measured') {
    const mm = input.track.coating_mm ?? coating.least_mm
    return {
      coating_mm: mm,
      measured: { coating_mm: mm },
      stated: { basis: 'given', mm, confirmed: false },
      evidence: said(`The coating of ${mm.toFixed(2)} mm was given, not measured.`)
    }
  }
  const at = part.peak - part.drawnFrom
  const apparent = part.coating[at] ?? Number.NaN
  const mm = Number.isNaN(apparent) ? coating.most_mm : apparent
  if (!Number.isNaN(apparent) && isConfirmed(parent, apparent)) {
    return {
      coating_mm: mm,
      measured: { coating_mm: mm },
      stated: { basis: 'measured', mm, confirmed: true },
      evidence: said(`The apparent coating is ${mm.toFixed(2)} mm; parent metal beside it agrees.`)
    }
  }
  const thinnest_mm = Math.min(mm, parent?.coating?.least_mm ?? coating.least_mm)
  const why = parent?.coating === undefined ? 'was not measured on parent metal' : 'is not what parent metal shows'
  return {
    coating_mm: mm,
    measured: { coating_mm: mm, thinnest_mm },
    stated: { basis: 'measured', mm, confirmed: false },
    evidence: said(`The apparent coating of ${mm.toFixed(2)} mm ${why}: the depth is not corrected by it.`)
  }
}

const said = (sentence: string): Evidence => ({ what: 'coating', sentence, speaks: 'neither' })
