/** Test help: a reference block and tracks along a weld, generated and examined. */
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { Equipment, WeldStandard, WeldTechnique } from '../../plan/index.ts'
import { generateTrack, type TrackFlaw, type TrackPaint, type TrackScene } from '../../rehearse/index.ts'
import type { Segment } from '../../scan/index.ts'
import type { PlaceBasis } from '../../signal/index.ts'
import {
  openParent,
  openShimRun,
  openWeldReference,
  type ParentReading,
  type ShimReading,
  type Standardization,
  standardizeWeld
} from '../../standardize/index.ts'
import { openWeld } from '../index.ts'
import { type Examined, type Recorded, segmentsOf, sound } from './hole.ts'

export const weldTechnique: WeldTechnique = {
  application: 'weld',
  procedure: { id: 'invented', revision: '1' },
  metal: 'carbon steel',
  frequency_kHz: 100,
  field_width_mm: 2.4,
  max_speed_mm_s: 60,
  alarm: { slot: '0.5 mm', share: 0.5 },
  min_signal_to_noise: 3
}

export const weldStandard: WeldStandard = {
  id: 'invented block',
  metal: 'carbon steel',
  slots: [
    { id: '0.5 mm', depth_mm: 0.5, position_mm: 30 },
    { id: '1.0 mm', depth_mm: 1, position_mm: 60 },
    { id: '2.0 mm', depth_mm: 2, position_mm: 90 }
  ]
}

export const weldEquipment: Equipment = {
  instrument: 'simulated',
  probe: 'simulated',
  cable: 'simulated',
  drive: 'unchanged',
  gain: 'unchanged',
  filters: 'none',
  entered_by: 'a test'
}

/** Invented throughout. */
export const trackScene: TrackScene = {
  length_m: 0.12,
  rate_Hz: 1000,
  speed: { mean_m_s: 0.03, swing: 0.2, swing_m: 0.05 },
  encoderStep_m: 5e-5,
  field_m: 2.4e-3,
  flaws: [],
  flaw: { half_depth_m: 1e-3, direction_rad: 1.9, turn_rad_per_m: -80 },
  material: { rms: 0.004, knot_m: 0.03, direction_rad: 2.4 },
  liftoff: { rms: 0.03, knot_m: 0.01, direction_rad: 3.1 },
  instrument: { gain: 0.7, rotation_rad: 0.5, x: 0.3, y: -0.2 },
  noise: 0.002
}

const slot = ({ depth_mm, position_mm }: WeldStandard['slots'][number]): TrackFlaw => ({
  depth_m: depth_mm * 1e-3,
  from_m: (position_mm - 0.1) * 1e-3,
  to_m: (position_mm + 0.1) * 1e-3
})

export const track = (change: Partial<TrackScene>, seed = 1): Recorded =>
  generateTrack({ ...trackScene, ...change }, seed)

let kept: Standardization | undefined

/** One run over the bare block, without an absolute channel. */
export function blockStandardization(): Standardization {
  kept ??= standardizedBlock(track({ flaws: weldStandard.slots.map(slot) }))
  return kept
}

export function standardizedBlock(recorded: Recorded, technique: Partial<WeldTechnique> = {}): Standardization {
  const run = sound(openWeldReference(referenceOf(recorded, technique)))
  for (const segment of segmentsOf(recorded)) sound(run.take(segment))
  return sound(run.close()).standardization
}

const referenceOf = ({ rate_Hz }: Recorded, technique: Partial<WeldTechnique> = {}) => ({
  technique: { ...weldTechnique, ...technique },
  standard: weldStandard,
  equipment: weldEquipment,
  rate_Hz
})

/** Invented: slot signals fall to 1/e over 1.3 mm, the absolute channel settles over 1.8 mm. */
export const evenPaint = (mean_mm: number): TrackPaint => ({
  mean_mm,
  swing: { mm: 0, every_m: 0.3 },
  runs: [],
  edges: [],
  fall_mm: 1.3,
  absolute: { bare: 0.1, rise: 2.2, settle_mm: 1.8, noise: 0.005, permeability: [] }
})

export const SHIMS = [0, 0.5, 1, 1.5, 2] as const

/** A run over the block under a shim, with the absolute channel. */
export const shimRun = (shim_mm: number, change: Partial<TrackScene> = {}): Recorded =>
  track({ flaws: weldStandard.slots.map(slot), paint: evenPaint(shim_mm), ...change }, 7 + 10 * shim_mm)

export function shimReading(recorded: Recorded, shim_mm: number): ShimReading {
  const run = openShimRun({ ...referenceOf(recorded), shim_mm })
  for (const segment of segmentsOf(recorded)) sound(run.take(segment))
  return sound(run.close())
}

export function shimmed(change: Partial<TrackScene> = {}, shims: readonly number[] = SHIMS): Standardization {
  const readings = shims.map((shim_mm) => shimReading(shimRun(shim_mm, change), shim_mm))
  return sound(standardizeWeld(referenceOf(shimRun(0)), readings)).standardization
}

let shimmedOnce: Standardization | undefined

export function shimmedStandardization(): Standardization {
  shimmedOnce ??= shimmed()
  return shimmedOnce
}

/** Flat parent metal under this paint. */
export const parentRun = (paint: TrackPaint, change: Partial<TrackScene> = {}, seed = 50): Recorded =>
  track({ length_m: 0.1, paint, ...change }, seed)

export function parentOf(recorded: Recorded, standardization = shimmedStandardization()): Result<ParentReading> {
  const run = openParent({ technique: weldTechnique, standardization, rate_Hz: recorded.rate_Hz, recording: 'parent' })
  for (const segment of segmentsOf(recorded)) {
    const taken = run.take(segment)
    if (isRefusal(taken)) return taken
  }
  return run.close()
}

export interface TrackChange {
  readonly length_mm?: number
  /** as a person states it; 0 where nothing is said and nothing was standardized under shims */
  readonly coating_mm?: number | undefined
  readonly ends_with_plate?: boolean
  readonly technique?: Partial<WeldTechnique>
  readonly equipment?: Partial<Equipment>
  readonly standardization?: Standardization
  readonly parent?: Result<ParentReading>
  readonly places?: PlaceBasis
}

export function trackExamined(
  segments: Iterable<Segment>,
  rate_Hz: number,
  change: TrackChange = {}
): Result<Examined> {
  const { parent, places, length_mm = 120, ends_with_plate } = change
  const coating_mm = 'coating_mm' in change ? change.coating_mm : 0
  const run = sound(
    openWeld({
      technique: { ...weldTechnique, ...change.technique },
      standardization: change.standardization ?? blockStandardization(),
      standardizationName: 'standardization',
      standard: weldStandard,
      track: { id: 'T1', length_mm, coating_mm, ends_with_plate },
      equipment: { ...weldEquipment, ...change.equipment },
      rate_Hz,
      recording: 'recording',
      ...(parent === undefined ? {} : { parent }),
      ...(places === undefined ? {} : { places })
    })
  )
  const events = []
  for (const segment of segments) {
    const taken = run.take(segment)
    if (isRefusal(taken)) return taken
    events.push(...taken)
  }
  const closed = run.close()
  return isRefusal(closed) ? closed : { events: [...events, ...closed.events], examination: closed.examination }
}

export const examineTrack = (recorded: Recorded, change: TrackChange = {}, lengths?: readonly number[]): Examined =>
  sound(trackExamined(segmentsOf(recorded, lengths), recorded.rate_Hz, change))

/** The same with shims, absolute channel and parent metal, as a weld job has them. */
export const examinePainted = (recorded: Recorded, change: TrackChange = {}, lengths?: readonly number[]): Examined =>
  examineTrack(recorded, { standardization: shimmedStandardization(), coating_mm: undefined, ...change }, lengths)
