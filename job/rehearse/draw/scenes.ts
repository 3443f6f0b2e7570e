import { PI, type Random, TAU } from '@trueloop/ground/numerics'
import type { Face, Flaw, HoleScene, Joint } from '../scene.ts'
import { flawSize } from '../terms/flaw.ts'
import { byFactor, happens, type Range, within } from './chance.ts'
import { type Family, families } from './families.ts'
import { alarmNotch, type DrawnNotch, type Geometry, mm } from './geometry.ts'

export interface SceneForm {
  readonly family: Family
  readonly geometry: Geometry
  readonly notches: readonly DrawnNotch[]
  readonly notchOverNoise: number
}

export const LIFTOFF = PI

/** Turns before the entry face and beyond the exit face. */
export const LEAD: Range = [6, 8]

/** A hole of the set-up without flaws, damage or trouble. */
export function plainScene(form: SceneForm, random: Random): HoleScene {
  const { geometry } = form
  const probe = drawProbe(form, random.fork('probe'))
  const entry = drawFace(geometry, random.fork('entry'))
  // a corner at the exit answers like one at the entry: the same width
  const exit = { ...drawFace(geometry, random.fork('exit')), width_m: entry.width_m }
  const hole = { diameter_m: mm(geometry.diameter_mm), grip_m: mm(geometry.grip_mm), entry, exit }
  const scene: HoleScene = {
    ...empty,
    ...{ hole, probe },
    motion: drawMotion(geometry, random.fork('motion')),
    recorder: drawRecorder(geometry, random.fork('recorder')),
    instrument: drawInstrument(random.fork('instrument')),
    joints: geometry.joints_mm.map((z, k) => drawJoint(mm(z), entry.width_m, random.fork(`joint ${k}`)))
  }
  return withNoise(scene, form, random.fork('noise'))
}

/** The reference standard: one plate without a joint, rounder than a hole of the job; the same noise. */
export const referenceOf = (
  plain: HoleScene,
  { thickness_mm }: Geometry,
  notches: readonly DrawnNotch[]
): HoleScene => ({
  ...plain,
  hole: { ...plain.hole, grip_m: mm(thickness_mm) },
  wall: { ...plain.wall, ovality_m: 0.4 * plain.wall.ovality_m },
  joints: [],
  flaws: notches.map(flawOfNotch)
})

const flawOfNotch = (notch: DrawnNotch): Flaw => ({
  kind: 'notch',
  depth_m: mm(notch.depth_mm),
  length_m: mm(notch.length_mm),
  angle_turn: notch.angle_deg / 360,
  z0_m: mm(notch.z0_mm),
  z1_m: mm(notch.z1_mm),
  scatter: notch.scatter
})

const empty = {
  flaws: [],
  damage: [],
  features: [],
  wall: {
    pattern: 'from the seed',
    eccentricity_m: 0,
    eccentricity_turn: 0,
    ovality_m: 0,
    ovality_turn: 0,
    roughness: { rms_m: 0, length_m: 5e-4 },
    wobble: { rms_m: 0, knot_turn: 0.7 }
  },
  noise: { inTime: true, white: 0, band: { rms: 0, bandwidth_Hz: 1 }, wall: { rms: 0, length_m: 5e-4 } },
  disturbances: {
    particles: [],
    spikes: { count: 0, size: 0 },
    hum: { frequency_Hz: 50, size: 0, phase_turn: 0, direction_rad: 0 }
  },
  fault: { kind: 'none' }
} satisfies Partial<HoleScene>

function drawProbe({ family, geometry }: SceneForm, random: Random): HoleScene['probe'] {
  const { angle_rad, turn_rad_per_mm, crackFactor } = families[family]
  const response = {
    full: within(random, [2.4, 3.6]),
    half_area_m2: within(random, [1.2e-6, 2.2e-6]),
    direction_rad: LIFTOFF - within(random, angle_rad),
    turn_rad_per_m: 1000 * within(random, turn_rad_per_mm),
    crack_factor: within(random, crackFactor)
  }
  return {
    lobe_spacing_m: mm(geometry.lobe_spacing_mm),
    footprint_m: mm(geometry.lobe_spacing_mm * within(random, [0.7, 1.1])),
    imbalance: within(random, [0.06, 0.18]),
    air: { size: within(random, [8, 13]), direction_rad: LIFTOFF + within(random, [-0.15, 0.05]) },
    liftoff: { per_m: within(random, [6000, 12_000]), direction_rad: LIFTOFF },
    flaw: response,
    ...(happens(random, 0.3) ? { axial_lobes_m: mm(geometry.lobe_spacing_mm * within(random, [0.6, 1])) } : {})
  }
}

const drawFace = ({ lobe_spacing_mm }: Geometry, random: Random): Face => ({
  width_m: mm(lobe_spacing_mm * within(random, [1.1, 1.5])),
  tilt_m: mm(within(random, [0, 0.02])),
  tilt_turn: random.uniform()
})

const drawMotion = ({ rpm, pitch_mm }: Geometry, random: Random): HoleScene['motion'] => ({
  rpm,
  drift: [
    {
      share: within(random, [0.002, 0.015]),
      cycles_per_turn: within(random, [0.01, 0.03]),
      phase_turn: random.uniform()
    },
    {
      share: within(random, [0.001, 0.006]),
      cycles_per_turn: within(random, [0.04, 0.12]),
      phase_turn: random.uniform()
    }
  ],
  sense: 1,
  feed: {
    kind: 'constant',
    pitch_m: mm(pitch_mm),
    leadIn_turn: within(random, LEAD),
    leadOut_turn: within(random, LEAD)
  }
})

const drawRecorder = ({ rate_Hz }: Geometry, random: Random): HoleScene['recorder'] => ({
  rate_Hz,
  index: {
    first_turn: random.uniform(),
    datum_turn: 0,
    width_turn: within(random, [0.02, 0.05]),
    rise_turn: within(random, [0, 0.006]),
    height: within(random, [1, 5]),
    marks: { none: false, lost: [], doubled: [], doubled_turn: 0.45, bounced: [], bounce_turn: 0.06 }
  }
})

function drawInstrument(random: Random): HoleScene['instrument'] {
  const gain = byFactor(random, [0.1, 30])
  return {
    gain,
    rotation_rad: within(random, [-PI, PI]),
    offset: { x: gain * within(random, [-2, 2]), y: gain * within(random, [-2, 2]) }
  }
}

const drawJoint = (z_m: number, width_m: number, random: Random): Joint => ({
  z_m,
  width_m: width_m * within(random, [0.6, 0.8]),
  tilt_m: mm(within(random, [0, 0.04])),
  tilt_turn: random.uniform(),
  size: within(random, [0.3, 1.3]),
  uneven: within(random, [0, 0.25]),
  direction_rad: LIFTOFF - within(random, [0.2, 0.7]),
  step: 0,
  step_direction_rad: 0
})

/**
 * Noise by its ratio to the alarm notch: most of it fixed on the wall, some band-limited, some white (as much in the band
 * of a notch, so more of it the faster the recorder). What lifts off is in proportion, and larger.
 */
function withNoise(scene: HoleScene, { notches, notchOverNoise, geometry }: SceneForm, random: Random): HoleScene {
  const rms = flawSize(scene, flawOfNotch(alarmNotch(notches))) / notchOverNoise
  const around = PI * geometry.diameter_mm
  const perTurn = (60 * geometry.rate_Hz) / geometry.rpm
  const perHalfLobe = Math.max(1, ((0.5 * geometry.lobe_spacing_mm) / around) * perTurn)
  const { per_m } = scene.probe.liftoff
  return {
    ...scene,
    wall: {
      ...scene.wall,
      eccentricity_m: within(random, [4e-6, 16e-6]),
      ovality_m: within(random, [3e-6, 18e-6]),
      roughness: { rms_m: (rms * within(random, [0.6, 1.3])) / per_m, length_m: mm(within(random, [0.45, 0.8])) },
      wobble: { rms_m: (rms * within(random, [1.5, 3])) / per_m, knot_turn: within(random, [0.15, 0.7]) }
    },
    noise: {
      inTime: true,
      white: Math.sqrt(0.15) * rms * Math.sqrt(perHalfLobe),
      band: { rms: Math.sqrt(0.25) * rms, bandwidth_Hz: bandOf(geometry) * within(random, [0.8, 2]) },
      wall: { rms: Math.sqrt(0.6) * rms, length_m: mm(within(random, [0.4, 0.6])) }
    },
    disturbances: {
      ...scene.disturbances,
      hum: {
        frequency_Hz: happens(random, 0.5) ? 50 : 60,
        size: rms * within(random, [0, 1]),
        phase_turn: random.uniform(),
        direction_rad: within(random, [0, TAU])
      }
    }
  }
}

/** Events a second of one lobe spacing at the nominal speed, in no band of less than 100 Hz. */
const bandOf = ({ diameter_mm, rpm, lobe_spacing_mm }: Geometry): number =>
  Math.max(100, (PI * diameter_mm * rpm) / 60 / lobe_spacing_mm)
