import { isRefusal, type Refusal } from '@trueloop/ground/refusal'
import type { Travel } from '../signal/index.ts'
import type { ParentReading } from '../standardize/index.ts'
import type { Examination } from './examination.ts'
import type { TrackCoating } from './weld-coating.ts'
import type { WeldExamination } from './weld-input.ts'
import { coatingOutside, coatingUnknown, partDiffers } from './weld-refusals.ts'
import type { TrackStream } from './weld-stream.ts'

/** What an examination of a track states beside its findings: place, speed, coating, and why the coating refuses it. */

export function coatingRefused({ track, parent }: WeldExamination, coating: TrackCoating): readonly Refusal[] {
  const part = parent !== undefined && isRefusal(parent) && parent.code === 'standardize/part-differs'
  const differs = part ? [partDiffers((parent as Refusal).found)] : []
  if (coating.basis === 'unknown') return [...differs, coatingUnknown()]
  if (coating.basis === 'measured' || coating.isGivenInside) return differs
  return [...differs, coatingOutside(track.coating_mm!, coating.least_mm, coating.most_mm)]
}

export const parentOf = ({ parent }: WeldExamination): ParentReading | undefined =>
  parent === undefined || isRefusal(parent) ? undefined : (parent as ParentReading)

interface Moved {
  readonly travel: Travel
  readonly step_m: number
}

export function positionOf({ places }: WeldExamination, { travel, step_m }: Moved): Examination['position'] {
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

export const speedOf = ({ speed }: TrackStream) => ({
  least: Number.isFinite(speed.least) ? speed.least : 0,
  mean: speed.units > 0 ? speed.sum / speed.units : 0,
  most: speed.most,
  unit: 'm/s'
})

export function coatingStated(
  { track, parent: read }: WeldExamination,
  coating: TrackCoating,
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
