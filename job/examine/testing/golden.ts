/**
 * Small recordings of each application, examined: what must be the same to the byte in every engine. Pure: made by our own
 * generator and numerics, nothing of the platform; a refusal ends in an error.
 */
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { canonical } from '../../record/index.ts'
import {
  demoRecordings,
  demoSheet,
  generate,
  generateTrack,
  type HoleScene,
  type TrackPaint,
  type TrackScene,
  trackSegment
} from '../../rehearse/index.ts'
import type { Segment } from '../../scan/index.ts'
import { openHoleReference, openParent, openShimRun, standardizeWeld } from '../../standardize/index.ts'
import type { WeldExamination } from '../index.ts'
import { openHole, openLoop, openWeld, type Run } from '../index.ts'

function must<T>(result: Result<T>): T {
  if (isRefusal(result)) throw new Error(`${result.code}: ${result.found}`)
  return result as T
}

const sheet = demoSheet()

function sceneOf(file: string): HoleScene {
  for (const one of demoRecordings(1)) if (one.file === file) return one.scene
  throw new Error(`no such recording: ${file}`)
}

interface Columns {
  readonly x: Float64Array
  readonly y: Float64Array
  readonly index?: Float64Array
  readonly position?: Float64Array
  readonly absolute?: Float64Array
}

const whole = ({ x, y, index, position, absolute }: Columns): Segment => ({
  first: 0,
  channels: [{ x, y }],
  aux: {
    ...(index === undefined ? {} : { index }),
    ...(position === undefined ? {} : { position }),
    ...(absolute === undefined ? {} : { absolute })
  }
})

const examinationOf = (run: Run, recorded: Columns): unknown => {
  const events = must(run.take(whole(recorded)))
  const closed = must(run.close())
  return { events: [...events, ...closed.events], examination: closed.examination }
}

/** A hole of two layers with a crack, a scratch, a lost mark and some spikes. */
function goldenHole(): unknown {
  const hole = {
    ...sheet.holes[0]!,
    grip_mm: 4,
    interfaces_mm: [2],
    layers: [sheet.technique.metal, sheet.technique.metal]
  }
  const like = sceneOf('hole-P09.wav')
  const scratched = sceneOf('hole-P03.wav').damage.map((one) => ({ ...one, z0_m: 5e-4, z1_m: 3.5e-3 }))
  const { index } = like.recorder
  const scene: HoleScene = {
    ...like,
    hole: { ...like.hole, grip_m: 4e-3 },
    joints: like.joints.slice(0, 1),
    flaws: [{ kind: 'crack', depth_m: 7e-4, length_m: 1e-3, angle_turn: 0.3, z0_m: 2e-3, z1_m: 3e-3 }],
    damage: scratched,
    disturbances: { ...like.disturbances, particles: [] },
    recorder: { ...like.recorder, index: { ...index, marks: { ...index.marks, lost: [15] } } }
  }
  const reference = generate(sceneOf('reference-start.wav'), 1)
  const equipment = sheet.equipment
  const common = { technique: sheet.technique, equipment, rate_Hz: reference.rate_Hz, indexed: true }
  const teach = must(openHoleReference({ ...common, standard: sheet.reference_standard }))
  must(teach.take(whole(reference)))
  const { standardization } = must(teach.close())
  const names = { standardizationName: 'golden', recording: 'golden' }
  return examinationOf(must(openHole({ ...common, ...names, standardization, hole })), generate(scene, 2))
}

const weldScene: TrackScene = {
  length_m: 0.12,
  rate_Hz: 1000,
  speed: { mean_m_s: 0.03, swing: 0.2, swing_m: 0.05 },
  encoderStep_m: 5e-5,
  field_m: 2.4e-3,
  flaws: [30, 60, 90].map((mm, i) => ({
    depth_m: [5e-4, 1e-3, 2e-3][i]!,
    from_m: (mm - 0.1) * 1e-3,
    to_m: (mm + 0.1) * 1e-3
  })),
  flaw: { half_depth_m: 1e-3, direction_rad: 1.9, turn_rad_per_m: -80 },
  material: { rms: 0.004, knot_m: 0.03, direction_rad: 2.4 },
  liftoff: { rms: 0.03, knot_m: 0.01, direction_rad: 3.1 },
  instrument: { gain: 0.7, rotation_rad: 0.5, x: 0.3, y: -0.2 },
  noise: 0.002
}

const weldInput: Pick<WeldExamination, 'technique' | 'standard' | 'equipment' | 'rate_Hz'> = {
  technique: {
    application: 'weld',
    procedure: { id: 'invented', revision: '1' },
    metal: 'carbon steel',
    frequency_kHz: 100,
    field_width_mm: 2.4,
    max_speed_mm_s: 60,
    alarm: { slot: '0.5 mm', share: 0.5 },
    min_signal_to_noise: 3
  },
  standard: {
    id: 'invented block',
    metal: 'carbon steel',
    slots: [0.5, 1, 2].map((depth_mm, i) => ({ id: `${depth_mm.toFixed(1)} mm`, depth_mm, position_mm: 30 * (i + 1) }))
  },
  equipment: sheet.equipment,
  rate_Hz: 1000
}

const weldPaint = (mean_mm: number, swing_mm: number): TrackPaint => ({
  mean_mm,
  swing: { mm: swing_mm, every_m: 0.2 },
  runs: [],
  edges: [],
  fall_mm: 1.3,
  absolute: { bare: 0.1, rise: 2.2, settle_mm: 1.8, noise: 0.005, permeability: [] }
})

function goldenWeld(): unknown {
  const readings = [0, 1, 2].map((shim_mm) => {
    const run = openShimRun({ ...weldInput, shim_mm })
    must(run.take(trackSegment(generateTrack({ ...weldScene, paint: weldPaint(shim_mm, 0) }, 1))))
    return must(run.close())
  })
  const { standardization } = must(standardizeWeld(weldInput, readings))
  const paint = { ...weldPaint(1.3, 0.2), runs: [{ at_m: 0.24, width_m: 0.03, mm: 1 }] }
  const flat = openParent({ ...weldInput, standardization, recording: 'golden parent' })
  must(flat.take(trackSegment(generateTrack({ ...weldScene, flaws: [], paint }, 2))))
  const flaws = [
    { depth_m: 1e-3, from_m: 0.04, to_m: 0.052 },
    { depth_m: 6e-4, from_m: 0.08, to_m: 0.085 },
    { depth_m: 1.4e-3, from_m: 0.15, to_m: 0.1515 }
  ]
  const nuisances = [
    { kind: 'permeability change', at_m: 0.12, width_m: 0.02, size: 0.3, direction_rad: 2.7 },
    { kind: 'lift', at_m: 0.2, width_m: 3e-3, lift_mm: 0.3, size: 0.4, direction_rad: 2.9 }
  ] as const
  const track = { id: 'golden', length_mm: 300 }
  const names = { standardizationName: 'golden', recording: 'golden', track, standardization, parent: flat.close() }
  const scene = { ...weldScene, length_m: 0.3, flaws, nuisances, paint }
  return examinationOf(must(openWeld({ ...weldInput, ...names })), generateTrack(scene, 3))
}

/** The hole's own plane signal, taken without position and without standardization. */
function goldenLoop(): unknown {
  const { rate_Hz, x, y } = generate(sceneOf('hole-P02.wav'), 3)
  const technique = {
    application: 'loop',
    procedure: { id: 'invented', revision: '1' },
    min_signal_to_noise: 2
  } as const
  const run = must(openLoop({ technique, place: 'golden', rate_Hz, recording: 'golden' }))
  return examinationOf(run, { x: x.slice(9000, 10_000), y: y.slice(9000, 10_000) })
}

/** Canonical JSON of the three examinations. */
export const goldenExaminations = (): string =>
  canonical({ hole: goldenHole(), weld: goldenWeld(), loop: goldenLoop() })
