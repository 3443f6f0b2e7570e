/** Test help: a reference scan whose every property is stated here, and its reading. Invented. */
import { isRefusal, type Refusal, type Result } from '@trueloop/ground/refusal'
import type { Equipment, HoleStandard, HoleTechnique, Notch } from '../../plan/index.ts'
import { generate, type HoleScene, type Recording } from '../../rehearse/index.ts'
import type { Segment } from '../../scan/index.ts'
import { type HoleReference, openHoleReference, type Standardized } from '../index.ts'

const at = (place: Notch['place'], depth_mm: number, angle_deg: number, z: readonly [number, number]): Notch => ({
  id: `${place} ${depth_mm} mm`,
  place,
  depth_mm,
  length_mm: z[1] - z[0],
  angle_deg,
  z0_mm: z[0],
  z1_mm: z[1]
})

export const standard: HoleStandard = {
  id: 'R1',
  metal: 'aluminum',
  hole_diameter_mm: 6.35,
  thickness_mm: 10,
  interfaces_mm: [],
  angle_datum: 'index pulse',
  notches: [
    at('mid-bore', 0.3, 20, [4.6, 5.4]),
    at('mid-bore', 0.5, 95, [4.4, 5.6]),
    at('mid-bore', 1, 190, [4, 6]),
    at('entry corner', 0.5, 57, [0, 0.5]),
    at('entry corner', 1, 262, [0, 1])
  ]
}

export const technique: HoleTechnique = {
  application: 'fastener hole',
  procedure: { id: 'P', revision: 'A' },
  metal: 'aluminum',
  frequency_kHz: 500,
  arrangement: 'differential',
  lobe_spacing_mm: 1.3,
  rotation_rpm: 1500,
  speed_tolerance: 0.2,
  rotation_sense: 'clockwise from the entry face',
  angle_datum: 'index pulse',
  axial_position: 'entry and exit edges',
  pitch_mm: 0.25,
  max_pitch_mm: 0.45,
  band: 'from the footprint',
  alarm: { notch: 'mid-bore 0.5 mm', share: 0.5 },
  target_flaw_mm: { depth: 0.5, length: 0.76 },
  min_signal_to_noise: 3,
  recheck_allowance: { amplitude: 0.1, angle_deg: 5 },
  corner_zones_by: 'entry-corner notches',
  may_class_by_phase_and_shape: []
}

export const equipment: Equipment = {
  instrument: 'I',
  probe: 'P',
  cable: 'C',
  drive: 'D',
  gain: 'unchanged',
  filters: 'none',
  entered_by: 'A'
}

const DEG = Math.PI / 180

/** Directions in the plane of the pair, and what the instrument does to it: the truth that a standardization recovers. */
export const truth = { liftoff_rad: 170 * DEG, flaw_rad: 75 * DEG, rotation_rad: 35 * DEG, gain: 0.6 }

/** 512 samples a revolution at an even speed; the first rising edge 0.37 turns after the beginning. */
export const scene: HoleScene = {
  hole: {
    diameter_m: 6.35e-3,
    grip_m: 10e-3,
    entry: { width_m: 1.4e-3, tilt_m: 0, tilt_turn: 0 },
    exit: { width_m: 1.4e-3, tilt_m: 0, tilt_turn: 0 }
  },
  motion: {
    rpm: 1500,
    drift: [],
    sense: 1,
    feed: { kind: 'constant', pitch_m: 0.25e-3, leadIn_turn: 8, leadOut_turn: 8 }
  },
  recorder: {
    rate_Hz: 12_800,
    index: {
      first_turn: 0.37,
      datum_turn: 0,
      width_turn: 0.03,
      rise_turn: 0.01,
      height: 5,
      marks: { none: false, lost: [], doubled: [], doubled_turn: 0.4, bounced: [], bounce_turn: 0.05 }
    }
  },
  probe: {
    lobe_spacing_m: 1.3e-3,
    footprint_m: 1e-3,
    imbalance: 0.1,
    air: { size: 12, direction_rad: truth.liftoff_rad },
    liftoff: { per_m: 9000, direction_rad: truth.liftoff_rad },
    flaw: { full: 3, half_area_m2: 1.5e-6, direction_rad: truth.flaw_rad, turn_rad_per_m: 0, crack_factor: 0.8 }
  },
  instrument: { gain: truth.gain, rotation_rad: truth.rotation_rad, offset: { x: -0.4, y: 0.3 } },
  wall: {
    pattern: 1,
    eccentricity_m: 15e-6,
    eccentricity_turn: 0.1,
    ovality_m: 10e-6,
    ovality_turn: 0.3,
    roughness: { rms_m: 1.5e-6, length_m: 0.6e-3 },
    wobble: { rms_m: 3e-6, knot_turn: 0.7 }
  },
  joints: [],
  flaws: standard.notches.map(({ depth_mm, length_mm, angle_deg, z0_mm, z1_mm }) => ({
    kind: 'notch',
    depth_m: depth_mm * 1e-3,
    length_m: length_mm * 1e-3,
    angle_turn: angle_deg / 360,
    z0_m: z0_mm * 1e-3,
    z1_m: z1_mm * 1e-3
  })),
  damage: [],
  disturbances: {
    particles: [],
    spikes: { count: 0, size: 0 },
    hum: { frequency_Hz: 50, size: 0, phase_turn: 0, direction_rad: 0 }
  },
  noise: {
    inTime: true,
    white: 0.004,
    band: { rms: 0.002, bandwidth_Hz: 1500 },
    wall: { rms: 0.008, length_m: 0.5e-3 }
  },
  fault: { kind: 'none' }
}

/** Changes of the parts of a scene. */
export type Change = { readonly [Part in keyof HoleScene]?: Partial<HoleScene[Part]> }

export function changed(change: Change, from: HoleScene = scene): HoleScene {
  const parts = Object.entries(change).map(([name, part]) => {
    const old = from[name as keyof HoleScene]
    return [name, Array.isArray(part) ? part : { ...old, ...part }]
  })
  return { ...from, ...Object.fromEntries(parts) }
}

export const recorded = (of: HoleScene, seed = 1): Recording => generate(of, seed)

type Columns = Pick<Recording, 'x' | 'y'> & { readonly index?: Float64Array }

export const inOne = ({ x, y, index }: Columns): readonly Segment[] => [
  { first: 0, channels: [{ x, y }], aux: index === undefined ? {} : { index } }
]

export interface Reading extends Partial<Pick<HoleReference, 'technique' | 'standard' | 'indexed' | 'rate_Hz'>> {
  readonly segments: Iterable<Segment>
}

export function read({ segments, ...other }: Reading): Result<Standardized> {
  const run = openHoleReference({ technique, standard, equipment, rate_Hz: 12_800, indexed: true, ...other })
  if (isRefusal(run)) return run
  for (const segment of segments) {
    const taken = run.take(segment)
    if (isRefusal(taken)) return taken
  }
  return run.close()
}

/** The same, where a refusal is a failure of the test. */
export function soundly(reading: Reading): Standardized {
  const out = read(reading)
  if (isRefusal(out)) throw new Error(`${out.code}: ${out.found}`)
  return out
}

export function refusedBy(reading: Reading): Refusal {
  const out = read(reading)
  if (!isRefusal(out)) throw new Error('not refused')
  return out
}
