import { PI } from '@trueloop/ground/numerics'
import type { Flaw, HoleScene, Joint } from './scene.ts'

/**
 * What all recordings of the demonstration share: one invented probe, instrument and drill. Every number is ours, chosen
 * to look like an aluminum joint; none is taken from a real part or from anybody's recordings.
 */

const mm = (value: number): number => value / 1000
const degrees = (value: number): number => value / 360

export const DIAMETER_mm = 4.8
export const GRIP_mm = 8.1
export const JOINTS_mm = [2, 5.6] as const
export const THICKNESS_mm = 16
export const PITCH_mm = 0.2
export const RPM = 1200
export const RATE_Hz = 12_500
export const LOBE_SPACING_mm = 1.1

const LIFTOFF = PI
const FLAW = PI - 1.65

/** A hole without joints, flaws, damage or trouble. */
export const plain: HoleScene = {
  hole: {
    diameter_m: mm(DIAMETER_mm),
    grip_m: mm(GRIP_mm),
    entry: { width_m: mm(1.5), tilt_m: mm(0.09), tilt_turn: degrees(200) },
    exit: { width_m: mm(1.7), tilt_m: mm(0.07), tilt_turn: degrees(70) }
  },
  motion: {
    rpm: RPM,
    drift: [
      { share: 0.012, cycles_per_turn: 0.013, phase_turn: 0.1 },
      { share: 0.004, cycles_per_turn: 0.07, phase_turn: 0.6 }
    ],
    sense: 1,
    feed: { kind: 'constant', pitch_m: mm(PITCH_mm), leadIn_turn: 12, leadOut_turn: 12 }
  },
  recorder: {
    rate_Hz: RATE_Hz,
    index: {
      first_turn: 0.42,
      datum_turn: 0,
      width_turn: 0.025,
      rise_turn: 0.004,
      height: 5,
      marks: { none: false, lost: [], doubled: [], doubled_turn: 0.45, bounced: [], bounce_turn: 0.05 }
    }
  },
  probe: {
    lobe_spacing_m: mm(LOBE_SPACING_mm),
    footprint_m: mm(0.95),
    imbalance: 0.13,
    air: { size: 11, direction_rad: LIFTOFF - 0.08 },
    liftoff: { per_m: 9000, direction_rad: LIFTOFF },
    flaw: { full: 3.1, half_area_m2: 1.6e-6, direction_rad: FLAW, turn_rad_per_m: -110, crack_factor: 0.78 }
  },
  instrument: { gain: 0.85, rotation_rad: -0.7, offset: { x: -0.4, y: 0.25 } },
  wall: {
    pattern: 0,
    eccentricity_m: 14e-6,
    eccentricity_turn: degrees(33),
    ovality_m: 16e-6,
    ovality_turn: degrees(110),
    roughness: { rms_m: 1.6e-6, length_m: mm(0.6) },
    wobble: { rms_m: 2.5e-6, knot_turn: 0.7 }
  },
  joints: [],
  flaws: [],
  damage: [],
  disturbances: {
    particles: [],
    spikes: { count: 0, size: 0 },
    hum: { frequency_Hz: 50, size: 0.01, phase_turn: 0.2, direction_rad: 0.5 }
  },
  noise: {
    inTime: true,
    white: 0.013,
    band: { rms: 0.004, bandwidth_Hz: 1500 },
    wall: { rms: 0.012, length_m: mm(0.5) }
  },
  fault: { kind: 'none' }
}

const jointAt = (z: number): Joint => ({
  z_m: mm(z),
  width_m: mm(1),
  tilt_m: mm(0.03),
  tilt_turn: degrees(150),
  size: 1.2,
  uneven: 0.4,
  direction_rad: LIFTOFF - 0.5,
  step: 0,
  step_direction_rad: 0
})

/** A hole of the panel, three layers. `pattern` tells one wall from another. */
export const holeScene = (pattern: number): HoleScene => ({
  ...plain,
  wall: {
    ...plain.wall,
    pattern,
    eccentricity_turn: degrees(47 * pattern),
    ovality_m: (12 + (pattern % 4) * 3) * 1e-6,
    ovality_turn: degrees(71 * pattern)
  },
  joints: JOINTS_mm.map(jointAt)
})

export const flawAt = (
  kind: Flaw['kind'],
  { angle_deg, depth_mm, z0_mm, z1_mm }: { angle_deg: number; depth_mm: number; z0_mm: number; z1_mm: number }
): Flaw => ({
  kind,
  depth_m: mm(depth_mm),
  length_m: mm(z1_mm - z0_mm),
  angle_turn: degrees(angle_deg),
  z0_m: mm(z0_mm),
  z1_m: mm(z1_mm)
})

/** Directions between lift-off and a flaw, where tool marks lie. */
export const towardLiftoff = (share: number): number => FLAW + share * (LIFTOFF - FLAW)
