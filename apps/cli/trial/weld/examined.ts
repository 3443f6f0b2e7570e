import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import { type Examination, openWeld } from '@trueloop/job/examine'
import type { Moved } from '@trueloop/job/interpret'
import type { Equipment, WeldStandard, WeldTechnique } from '@trueloop/job/plan'
import type { TrackCall, TrackOutcome } from '@trueloop/job/rehearse'
import {
  openParent,
  openShimRun,
  type ParentReading,
  type ShimReading,
  type Standardization,
  standardizeWeld
} from '@trueloop/job/standardize'
import type { Held, HeldWelds } from './held.ts'

/** What a trial job with welds is examined with, as its `setup.json` states it. */
export interface WeldKit {
  readonly technique: WeldTechnique
  readonly standard: WeldStandard
  readonly equipment: Equipment
}

const idOf = (depth_mm: number): string => `${depth_mm.toFixed(1)} mm`

/** The trial states no signal-to-noise; common practice stands in, for scoring only. */
const LEAST_SIGNAL_TO_NOISE = 3

export function kitOf({ name, setup }: HeldWelds): WeldKit {
  const { technique, equipment } = setup
  const slots = setup.slots_mm.map((depth_mm, k) => ({
    id: idOf(depth_mm),
    depth_mm,
    position_mm: setup.slot_positions_mm[k]!
  }))
  const named = slots.find(({ id }) => technique.alarm.slot.startsWith(id))
  const largest = technique.largest_coating_mm
  const listed = technique.may_class_by_phase_and_shape
  return {
    technique: {
      application: 'weld',
      procedure: { id: `trial ${name}`, revision: 'as delivered' },
      metal: setup.metal,
      frequency_kHz: setup.frequency_khz,
      field_width_mm: setup.field_width_mm,
      max_speed_mm_s: technique.max_speed_mm_s,
      alarm: { slot: named?.id ?? technique.alarm.slot, share: technique.alarm.share },
      min_signal_to_noise: technique.min_signal_to_noise ?? LEAST_SIGNAL_TO_NOISE,
      ...(largest === undefined ? {} : { largest_coating_mm: largest }),
      ...(listed === undefined ? {} : { may_class_by_phase_and_shape: [...listed] })
    },
    standard: { id: `trial block ${name}`, metal: setup.metal, slots },
    equipment: {
      instrument: equipment.instrument,
      probe: [equipment.probe, equipment.absolute_probe].filter((one) => one !== undefined).join(' and '),
      cable: 'as for the job',
      drive: 'as for the job',
      gain: equipment.gain,
      filters: setup.source_filter,
      entered_by: technique.confirmed_by
    }
  }
}

interface Taking<T> {
  take(segment: Held['segments'][number]): Result<unknown>
  close(): Result<T>
}

function ran<T>(run: Result<Taking<T>>, { segments }: Held): Result<T> {
  if (isRefusal(run)) return run
  for (const segment of segments) {
    const taken = run.take(segment)
    if (isRefusal(taken)) return taken
  }
  return run.close()
}

export function standardizedTrial(job: HeldWelds): Result<Standardization> {
  const kit = kitOf(job)
  const readings: ShimReading[] = []
  for (const { shim_mm, run } of job.shims) {
    const reading = ran(openShimRun({ ...kit, rate_Hz: run.rate_Hz, shim_mm }), run)
    if (isRefusal(reading)) return reading
    readings.push(reading)
  }
  const standardized = standardizeWeld({ ...kit, rate_Hz: job.shims[0]!.run.rate_Hz }, readings)
  return isRefusal(standardized) ? standardized : standardized.standardization
}

/** The trial states no length: a track is as long as its encoder says, in whole millimeters. */
const lengthOf = ({ segments }: Held): number => {
  let most = 0
  for (const { aux } of segments) for (const at of aux.position ?? []) most = Math.max(most, at)
  return Math.max(1, Math.round(1e3 * most))
}

export interface ExaminedWeld {
  readonly outcome: TrackOutcome
  readonly notExamined: readonly string[]
  readonly refusals: readonly Refusal[]
}

export function examinedWeld(
  job: HeldWelds,
  standardization: Standardization,
  { name, moved }: { readonly name: string; readonly moved?: Moved }
): Result<ExaminedWeld> {
  const kit = kitOf(job)
  const { run, parent } = job.welds.find((one) => one.name === name)!
  const { rate_Hz } = run
  const read: Result<ParentReading> | undefined =
    parent === undefined
      ? undefined
      : ran(openParent({ ...kit, standardization, rate_Hz: parent.rate_Hz, recording: name }), parent)
  const opened = openWeld({
    ...kit,
    standardization,
    standardizationName: 'block',
    track: { id: name, length_mm: lengthOf(run) },
    rate_Hz,
    recording: name,
    ...(read === undefined ? {} : { parent: read }),
    ...(moved === undefined ? {} : { moved })
  })
  const closed = ran(opened, run)
  if (isRefusal(closed)) return closed
  return outcomeOf(job, name, closed.examination)
}

function outcomeOf(job: HeldWelds, name: string, { indications, coating, zones, refusals }: Examination): ExaminedWeld {
  const calls = indications.flatMap((one): readonly TrackCall[] => {
    if (one.class !== 'relevant' && one.class !== 'undecided') return []
    const { depth_mm, lower_mm, upper_mm } = one.size
    const depth = Object.entries({ depth_mm, lower_mm, upper_mm }).filter(([, value]) => value !== undefined)
    return [
      {
        from_mm: 1e3 * (one.z0_m as number),
        to_mm: 1e3 * (one.z1_m as number),
        amplitude: one.amplitude,
        ...Object.fromEntries(depth)
      }
    ]
  })
  const met = coating?.apparent
  const told = Object.entries({
    least: met?.least_mm,
    // the truth of the trial is a median over samples
    median: met?.medianOfSamples_mm,
    greatest: met?.greatest_mm
  }).filter(([, value]) => value !== undefined)
  const { flaws, coating_mm } = job.truth[name]!
  return {
    outcome: {
      weld: `${job.name}/${name}`,
      flaws,
      calls,
      coating: { true_: coating_mm, told: Object.fromEntries(told) }
    },
    notExamined: zones.flatMap(({ z0_m, z1_m, state, why }) =>
      state === 'examined' ? [] : [`${(1e3 * z0_m).toFixed(1)} to ${(1e3 * z1_m).toFixed(1)} mm: ${why.join('; ')}`]
    ),
    refusals
  }
}
