import { PI, TAU } from '@trueloop/ground/numerics'
import { turnsOf } from '../motion.ts'
import type { HoleScene } from '../scene.ts'
import { within } from './chance.ts'
import type { Trouble } from './drawing.ts'
import { mm } from './geometry.ts'

/** What passes: particles, the mains, the cable, marks of the index; and how the probe stands in the hole. */

const withDisturbances = (scene: HoleScene, more: Partial<HoleScene['disturbances']>): HoleScene => ({
  ...scene,
  disturbances: { ...scene.disturbances, ...more }
})

/** At another place every turn, beyond lift-off as seen from a flaw. */
const looseParticle: Trouble = ({ scene, random, size, toward, stretch }) =>
  withDisturbances(scene, {
    particles: [
      {
        angle_turn: random.uniform(),
        drift_turn_per_turn: within(random, [-0.04, 0.04]),
        wander_rms_turn: within(random, [0.01, 0.04]),
        ...stretch([0.2, 0.8]),
        size: size([0.5, 1.8]),
        direction_rad: toward([1.3, 2])
      }
    ]
  })

const spikes: Trouble = ({ scene, random, size }) =>
  withDisturbances(scene, { spikes: { count: 3 + random.below(8), size: size([0.6, 3]) } })

/** Shorter than a turn, with a few cycles in the band of a notch. */
const bursts: Trouble = ({ scene, random, size }) => {
  const turn_s = 60 / scene.motion.rpm
  const pulse_s = (turn_s * scene.probe.lobe_spacing_m) / (PI * scene.hole.diameter_m)
  return withDisturbances(scene, {
    bursts: {
      count: 2 + random.below(5),
      size: size([0.5, 1.5]),
      length_s: turn_s * within(random, [0.05, 0.3]),
      frequency_Hz: within(random, [0.4, 1.2]) / pulse_s
    }
  })
}

const hum: Trouble = ({ scene, random, size }) =>
  withDisturbances(scene, {
    hum: {
      frequency_Hz: random.uniform() < 0.5 ? 50 : 60,
      size: size([0.2, 0.8]),
      phase_turn: random.uniform(),
      direction_rad: within(random, [0, TAU])
    }
  })

const marks: Trouble = ({ scene, random }) => {
  const { index } = scene.recorder
  const last = Math.floor(turnsOf(scene)) - 4
  const at = () => 4 + random.below(last - 4)
  const wrong = {
    ...index.marks,
    lost: Array.from({ length: 2 + random.below(3) }, at),
    doubled: [at()],
    bounced: [at(), at()]
  }
  return { ...scene, recorder: { ...scene.recorder, index: { ...index, marks: wrong } } }
}

const probeTilt: Trouble = ({ scene, random }) => ({
  ...scene,
  probe: {
    ...scene.probe,
    tilt: {
      liftoff_m: within(random, [10e-6, 40e-6]),
      wall_turn: random.uniform(),
      imbalance: within(random, [0.02, 0.1])
    }
  }
})

/** A probe made for this size in a hole that was reamed to the next one and not measured: it hardly touches. */
const oversize: Trouble = ({ scene, random }) => withGap(scene, { oversize_m: mm(within(random, [0.03, 0.15])) })

const countersink: Trouble = ({ scene, random }) =>
  withGap(scene, {
    countersink: { depth_m: mm(within(random, [0.5, 1.4])), half_angle_rad: (PI / 180) * within(random, [41, 50]) }
  })

/** Answers fall over the distance over which a lift-off of the same rate would reach air. */
const withGap = (scene: HoleScene, more: Partial<NonNullable<HoleScene['hole']['gap']>>): HoleScene => {
  const { air, liftoff } = scene.probe
  const none = { oversize_m: 0, countersink: { depth_m: 0, half_angle_rad: 0 }, decay_m: air.size / liftoff.per_m }
  return { ...scene, hole: { ...scene.hole, gap: { ...none, ...more } } }
}

export const passingTroubles = {
  'loose particle': looseParticle,
  spikes,
  bursts,
  hum,
  marks,
  'probe tilt': probeTilt,
  'oversize hole': oversize,
  countersink
} satisfies Readonly<Record<string, Trouble>>
