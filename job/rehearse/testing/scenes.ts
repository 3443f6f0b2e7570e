import reference from '../reference/scene.json' with { type: 'json' }
import type { HoleScene } from '../scene.ts'

/** The scene of the reference: much in it, nothing random. */
export const full = reference.scene as unknown as HoleScene

/** The same, with all that is drawn from the seed. */
export const random: HoleScene = {
  ...full,
  wall: { ...full.wall, roughness: { rms_m: 1e-6, length_m: 0.0006 }, wobble: { rms_m: 2e-6, knot_turn: 0.8 } },
  damage: [
    ...full.damage,
    {
      kind: 'galled patch',
      angle_turn: 0.45,
      width_m: 0.002,
      z0_m: 0.003,
      z1_m: 0.005,
      grain_m: 0.0006,
      size: 0.4,
      direction_rad: 2.8
    }
  ],
  disturbances: {
    ...full.disturbances,
    particles: full.disturbances.particles.map((one) => ({ ...one, wander_rms_turn: 0.01 })),
    spikes: { count: 4, size: 3 }
  },
  noise: {
    inTime: true,
    white: 0.01,
    band: { rms: 0.01, bandwidth_Hz: 900 },
    wall: { rms: 0.02, length_m: 0.0005 }
  }
}

/** One deep notch in a quiet wall without faces in sight: even speed, balanced pair, plain instrument. */
export const quiet: HoleScene = {
  ...full,
  motion: { ...full.motion, drift: [] },
  probe: { ...full.probe, imbalance: 0 },
  instrument: { gain: 1, rotation_rad: 0, offset: { x: 0, y: 0 } },
  wall: { ...full.wall, eccentricity_m: 0, ovality_m: 0 },
  joints: [],
  flaws: full.flaws.slice(0, 1),
  damage: [],
  disturbances: { ...full.disturbances, particles: [], hum: { ...full.disturbances.hum, size: 0 } }
}
