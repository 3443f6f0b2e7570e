import { flawAt, holeScene, plain, THICKNESS_mm, towardLiftoff } from './demo-scene.ts'
import type { Damage, HoleScene, Particle } from './scene.ts'

/** Reference standard and holes of the demonstration, with what is in them. */

const mm = (value: number): number => value / 1000
const degrees = (value: number): number => value / 360

export interface DemoNotch {
  readonly id: string
  readonly place: 'entry corner' | 'mid-bore'
  readonly depth_mm: number
  readonly length_mm: number
  readonly angle_deg: number
  readonly z0_mm: number
  readonly z1_mm: number
}

const midBore = (depth_mm: number, length_mm: number, angle_deg: number): DemoNotch => ({
  id: `mid-bore ${depth_mm} mm`,
  place: 'mid-bore',
  depth_mm,
  length_mm,
  angle_deg,
  z0_mm: (THICKNESS_mm - length_mm) / 2,
  z1_mm: (THICKNESS_mm + length_mm) / 2
})

const corner = (size_mm: number, angle_deg: number): DemoNotch => ({
  id: `entry corner ${size_mm} mm`,
  place: 'entry corner',
  depth_mm: size_mm,
  length_mm: size_mm,
  angle_deg,
  z0_mm: 0,
  z1_mm: size_mm
})

export const demoNotches: readonly DemoNotch[] = [
  midBore(0.3, 0.7, 12),
  corner(0.4, 56),
  midBore(0.6, 1.4, 101),
  corner(0.7, 147),
  midBore(0.9, 2, 192),
  corner(1, 237),
  midBore(1.3, 2.6, 283),
  corner(1.4, 326)
]

/** One plate without a joint; always the same wall. */
export const referenceScene: HoleScene = {
  ...plain,
  hole: { ...plain.hole, grip_m: mm(THICKNESS_mm) },
  flaws: demoNotches.map((notch) => flawAt('notch', notch))
}

const scratch: Damage = {
  kind: 'scratch',
  angle_turn: degrees(214),
  helix_turn_per_m: 6,
  width_m: mm(0.2),
  z0_m: mm(0.8),
  z1_m: mm(7.2),
  size: 0.6,
  direction_rad: towardLiftoff(0.85)
}

const galling: Damage = {
  kind: 'galled patch',
  angle_turn: degrees(60),
  width_m: mm(1.4),
  z0_m: mm(2.6),
  z1_m: mm(4.4),
  grain_m: mm(0.6),
  size: 0.45,
  direction_rad: towardLiftoff(0.9)
}

const chatter: Damage = {
  kind: 'chatter',
  per_turn: 18,
  phase_turn: 0,
  z0_m: mm(2),
  z1_m: mm(5.6),
  size: 0.1,
  direction_rad: towardLiftoff(1)
}

const particle: Particle = {
  angle_turn: degrees(20),
  drift_turn_per_turn: 0.021,
  wander_rms_turn: 0.02,
  z0_m: mm(6.4),
  z1_m: mm(6.9),
  size: 0.8,
  direction_rad: towardLiftoff(1.7)
}

const withMarks = (
  scene: HoleScene,
  marks: { readonly lost: readonly number[]; readonly bounced: readonly number[] }
) => ({
  ...scene,
  recorder: {
    ...scene.recorder,
    index: { ...scene.recorder.index, marks: { ...scene.recorder.index.marks, ...marks } }
  }
})

const atPitch = (scene: HoleScene, pitch_mm: number): HoleScene => ({
  ...scene,
  motion: {
    ...scene.motion,
    feed: { kind: 'constant', pitch_m: mm(pitch_mm), leadIn_turn: 12, leadOut_turn: 12 }
  }
})

const crackAt = (angle_deg: number, depth_mm: number, z0_mm: number, z1_mm: number) =>
  flawAt('crack', { angle_deg, depth_mm, z0_mm, z1_mm })

export interface DemoHole {
  readonly id: string
  readonly scene: HoleScene
  /** what it shows, for the newcomer */
  readonly shows: string
}

const hole = (number: number, shows: string, change: (scene: HoleScene) => HoleScene): DemoHole => ({
  id: `P${number < 10 ? '0' : ''}${number}`,
  scene: change(holeScene(number)),
  shows
})

export const demoHoles: readonly DemoHole[] = [
  hole(1, 'nothing but the wall', (scene) => scene),
  hole(2, 'a crack at the entry corner', (scene) => ({ ...scene, flaws: [crackAt(128, 0.8, 0, 0.9)] })),
  hole(3, 'a scratch along the hole', (scene) => ({ ...scene, damage: [scratch] })),
  hole(4, 'a crack at mid-bore of the second layer', (scene) => ({ ...scene, flaws: [crackAt(291, 0.7, 2.9, 4.5)] })),
  hole(5, 'the probe was never in the hole', (scene) => ({ ...scene, fault: { kind: 'in air' } })),
  hole(6, 'lost and bouncing marks', (scene) => withMarks(scene, { lost: [21, 22, 40], bounced: [30] })),
  hole(7, 'a crack at a faying surface', (scene) => ({ ...scene, flaws: [crackAt(35, 0.9, 4.6, 5.6)] })),
  hole(8, 'too large a pitch', (scene) => atPitch(scene, 0.6)),
  hole(9, 'chatter, a loose particle, spikes', (scene) => ({
    ...scene,
    damage: [chatter],
    disturbances: { ...scene.disturbances, particles: [particle], spikes: { count: 5, size: 2 } }
  })),
  hole(10, 'a crack at the exit corner, a galled patch elsewhere', (scene) => ({
    ...scene,
    flaws: [crackAt(246, 1.1, 6.9, 8.1)],
    damage: [galling]
  }))
]
