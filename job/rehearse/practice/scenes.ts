import { PI, type Random } from '@trueloop/ground/numerics'
import type { HoleSheet, Notch } from '../../plan/index.ts'
import { holeScene, plain } from '../demo-scene.ts'
import type { Flaw, HoleScene, PairProbe, Scratch } from '../scene.ts'

/** Scenes of a technique: its holes, speed, pitch and probe; what is random and small about them is that of the demonstration. */

type Hole = HoleSheet['holes'][number]

const mm = (value: number): number => value * 1e-3
const degrees = (value: number): number => value / 360

export interface Staged {
  readonly sheet: HoleSheet
  readonly probe: PairProbe
  readonly rate_Hz: number
}

/** How often a pulse is sampled, and rates in round steps. */
const SAMPLES_A_LOBE = 12
const RATE_STEP_Hz = 500

/** Rate at which a lobe is met often enough in the widest hole. */
export function rateFor({ technique, holes }: HoleSheet, { lobe_spacing_m }: PairProbe): number {
  const widest_m = mm(Math.max(...holes.map(({ diameter_mm }) => diameter_mm)))
  const lobes_per_s = ((PI * widest_m) / lobe_spacing_m) * (technique.rotation_rpm / 60)
  return RATE_STEP_Hz * Math.ceil((SAMPLES_A_LOBE * lobes_per_s) / RATE_STEP_Hz)
}

function staged(scene: HoleScene, { sheet: { technique }, probe, rate_Hz }: Staged): HoleScene {
  const feed = {
    ...({ kind: 'constant', leadIn_turn: 12, leadOut_turn: 12 } as const),
    pitch_m: mm(technique.pitch_mm ?? 0.6 * technique.max_pitch_mm)
  }
  const edge = 2 * (probe.field?.driver.outer_m ?? mm(0.75))
  const { hole, motion, recorder } = scene
  return {
    ...scene,
    hole: { ...hole, entry: { ...hole.entry, width_m: edge }, exit: { ...hole.exit, width_m: edge } },
    motion: { ...motion, rpm: technique.rotation_rpm, feed },
    recorder: { ...recorder, rate_Hz },
    probe
  }
}

export function standardScene(staging: Staged): HoleScene {
  const { hole_diameter_mm, thickness_mm, notches } = staging.sheet.reference_standard
  const hole = { ...plain.hole, diameter_m: mm(hole_diameter_mm), grip_m: mm(thickness_mm) }
  return staged({ ...plain, hole, flaws: notches.map(notchFlaw) }, staging)
}

const notchFlaw = ({ depth_mm, length_mm, angle_deg, z0_mm, z1_mm }: Notch): Flaw => ({
  kind: 'notch',
  depth_m: mm(depth_mm),
  length_m: mm(length_mm),
  angle_turn: degrees(angle_deg),
  z0_m: mm(z0_mm),
  z1_m: mm(z1_mm)
})

export interface InHole {
  readonly hole: Hole
  readonly pattern: number
  readonly flaws: readonly Flaw[]
  readonly scratches: readonly Scratch[]
}

export function sceneOfHole({ hole, pattern, flaws, scratches }: InHole, staging: Staged): HoleScene {
  const like = holeScene(pattern)
  const [joint] = like.joints
  const form = { ...like.hole, diameter_m: mm(hole.diameter_mm), grip_m: mm(hole.grip_mm) }
  const joints = hole.interfaces_mm.map((z_mm) => ({ ...joint!, z_m: mm(z_mm) }))
  return staged({ ...like, hole: form, joints, flaws, damage: scratches }, staging)
}

/** A scratch along most of the hole, between lift-off and the direction of a flaw. */
export function scratchIn(hole: Hole, probe: PairProbe, random: Random): Scratch {
  const share = 0.5 + 0.3 * random.uniform()
  return {
    kind: 'scratch',
    angle_turn: random.uniform(),
    helix_turn_per_m: 4 + 4 * random.uniform(),
    width_m: mm(0.2),
    z0_m: mm(0.1 * hole.grip_mm),
    z1_m: mm(0.9 * hole.grip_mm),
    size: 0.3 + 0.4 * random.uniform(),
    direction_rad: probe.flaw.direction_rad + share * (PI - probe.flaw.direction_rad)
  }
}
