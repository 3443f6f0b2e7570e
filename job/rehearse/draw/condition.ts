import { PI } from '@trueloop/ground/numerics'
import { handFeed } from '../hand-feed.ts'
import { turnsOf } from '../motion.ts'
import type { Fault, HoleScene } from '../scene.ts'
import { ASKEW_m, blankScene, type DrawnHole, drawnHole, recordingSeed, streamOf } from './blank.ts'
import { type Range, within } from './chance.ts'
import type { Drawing } from './drawing.ts'
import { drawFlawed } from './flawed.ts'
import { mm } from './geometry.ts'
import type { Setup } from './setup.ts'

/** Ways in which a hole is scanned otherwise than the set-up says. */
export type Condition = 'hand feed' | 'hand feed with a step back' | 'reversed sense' | 'source filters'

export const conditions: readonly Condition[] = [
  'hand feed',
  'hand feed with a step back',
  'reversed sense',
  'source filters'
]

/** The same hole as it comes, scanned under this condition; its truth holds for the new scan. */
export function underCondition(setup: Setup, { scene, seed }: DrawnHole, condition: Condition): DrawnHole {
  const random = streamOf(setup, seed, condition)
  return drawnHole(changed[condition]({ scene, random }), seed)
}

type Change = (of: Pick<Drawing, 'scene' | 'random'>) => HoleScene

/** In and out by hand, with a rest, perhaps a step back, and an advance that is uneven by a factor of two to three. */
const byHand =
  (back_mm: Range): Change =>
  ({ scene, random }) => {
    const { feed } = scene.motion
    const pitch_m = feed.kind === 'constant' ? feed.pitch_m : mm(0.2)
    const form = {
      ...{ grip_m: scene.hole.grip_m, pitch_m, before_m: 7 * pitch_m, beyond_m: 7 * pitch_m },
      dwell_turn: within(random, [2, 5]),
      reversal_m: mm(within(random, back_mm)),
      unevenness: within(random, [2, 3]),
      out: true
    }
    return { ...scene, motion: { ...scene.motion, feed: handFeed(form, random.fork('hand')) } }
  }

const reversed: Change = ({ scene }) => ({ ...scene, motion: { ...scene.motion, sense: -1 } })

/** A high-pass below twice a revolution and a low-pass above a notch's band, as an instrument has them. */
const filtered: Change = ({ scene, random }) => {
  const turns_Hz = scene.motion.rpm / 60
  const notch_Hz = (turns_Hz * PI * scene.hole.diameter_m) / scene.probe.lobe_spacing_m
  const low = Math.min(0.45 * scene.recorder.rate_Hz, notch_Hz * within(random, [1.5, 3]))
  const filters = [
    { kind: 'high-pass', order: 1, corner_Hz: turns_Hz * within(random, [0.5, 1.5]) },
    { kind: 'low-pass', order: 2, corner_Hz: low }
  ] as const
  return { ...scene, instrument: { ...scene.instrument, filters } }
}

const changed: Readonly<Record<Condition, Change>> = {
  'hand feed': byHand([0, 0]),
  'hand feed with a step back': byHand([0.3, 1]),
  'reversed sense': reversed,
  'source filters': filtered
}

export type FaultKind = Exclude<Fault['kind'], 'none'>

export const faultKinds: readonly FaultKind[] = [
  ...(['gain change', 'in air', 'dead channel', 'half open'] as const),
  ...(['clipped', 'offset drift', 'intermittent cable'] as const)
]

/** A hole, flawed or not, scanned with a fault of the equipment. */
export function drawFaulty(setup: Setup, seed: number, kind: FaultKind): DrawnHole {
  const random = streamOf(setup, seed, kind)
  const isFlawed = random.uniform() < 0.5
  const hole = drawFlawed(setup, seed, { kind: 'crack', depth_mm: [0.4, 1.2] })
  const scene = isFlawed ? hole.scene : blankScene(setup, random.fork('hole'), ASKEW_m)
  // about zero, so that it clips both ways
  const instrument = kind === 'clipped' ? { ...scene.instrument, offset: { x: 0, y: 0 } } : scene.instrument
  return drawnHole({ ...scene, instrument, fault: faults[kind]({ scene, random }) }, recordingSeed(random))
}

/** Lost sensitivity begins before the hole or part of the way in it. */
const faults: Readonly<Record<FaultKind, (of: Pick<Drawing, 'scene' | 'random'>) => Fault>> = {
  'gain change': ({ scene, random }) => ({
    kind: 'gain change',
    change_dB: within(random, [-20, -6]),
    from_turn: random.uniform() < 0.5 ? 0 : turnsOf(scene) * within(random, [0.3, 0.6])
  }),
  'in air': () => ({ kind: 'in air' }),
  'dead channel': ({ random }) => ({ kind: 'dead channel', channel: random.uniform() < 0.5 ? 'x' : 'y', level: 0 }),
  'half open': () => ({ kind: 'half open' }),
  clipped: ({ scene, random }) => ({ kind: 'clipped', limit: scene.instrument.gain * within(random, [0.1, 0.4]) }),
  'offset drift': ({ scene, random }) => {
    const duration_s = (turnsOf(scene) * 60) / scene.motion.rpm
    const rate = (scene.instrument.gain * scene.probe.air.size) / duration_s
    return { kind: 'offset drift', x_per_s: rate * within(random, [0.5, 1.5]), y_per_s: rate * within(random, [-1, 1]) }
  },
  'intermittent cable': ({ scene, random }) => ({
    kind: 'intermittent cable',
    outages: Array.from({ length: 2 + random.below(4) }, () => ({
      from_turn: turnsOf(scene) * within(random, [0.2, 0.8]),
      turns: within(random, [0.3, 3])
    }))
  })
}
