import { type Random, randomFrom } from '@trueloop/ground/numerics'
import type { Face, HoleScene } from '../scene.ts'
import { type Truth, truthOf } from '../truth.ts'
import { happens, type Range, within } from './chance.ts'
import type { Setup } from './setup.ts'

/** A hole to be generated: `generate(scene, seed)` makes its recording. */
export interface DrawnHole {
  readonly scene: HoleScene
  readonly seed: number
  readonly truth: Truth
}

export const drawnHole = (scene: HoleScene, seed: number): DrawnHole => ({ scene, seed, truth: truthOf(scene) })

/** A seed of its own for every recording: the same number in two set-ups gives two noises. */
export const recordingSeed = (random: Random): number => random.fork('recording').below(4294967296)

export const streamOf = (setup: Setup, seed: number, what: string): Random =>
  randomFrom(`rehearse ${setup.id} of ${setup.referenceSeed}, ${what} ${seed}`)

/** A hole without a flaw and without damage: its own wall, faces, speed and index, now and then a mark that is amiss. */
export function drawBlank(setup: Setup, seed: number): DrawnHole {
  const random = streamOf(setup, seed, 'blank')
  return drawnHole(blankScene(setup, random, ASKEW_m), recordingSeed(random))
}

/** How far from square a face may be where nothing lies at it. */
export const ASKEW_m: Range = [0, 8e-5]

/** Faces keep the set-up's tilt, or are drawn askew within a range. */
export function blankScene({ plain }: Setup, random: Random, askew_m?: Range): HoleScene {
  const { motion, recorder, wall, hole } = plain
  const drift = motion.drift.map((one) => ({ ...one, phase_turn: random.uniform() }))
  const { index } = recorder
  const marks = happens(random, 0.2) ? { ...index.marks, ...amiss(random) } : index.marks
  return {
    ...plain,
    hole: {
      ...hole,
      entry: turned(hole.entry, random.fork('entry'), askew_m),
      exit: turned(hole.exit, random.fork('exit'), askew_m)
    },
    motion: { ...motion, drift },
    recorder: { ...recorder, index: { ...index, first_turn: random.uniform(), marks } },
    wall: {
      ...wall,
      eccentricity_m: wall.eccentricity_m * within(random, [0.5, 1.5]),
      eccentricity_turn: random.uniform(),
      ovality_m: wall.ovality_m * within(random, [0.5, 1.5]),
      ovality_turn: random.uniform()
    },
    joints: plain.joints.map((joint) => ({ ...joint, tilt_turn: random.uniform() }))
  }
}

const turned = (face: Face, random: Random, askew_m: Range | undefined): Face => ({
  ...face,
  tilt_turn: random.uniform(),
  ...(askew_m === undefined ? {} : { tilt_m: within(random, askew_m) })
})

/** One to three marks lost in a row or apart, or one that bounces. */
function amiss(random: Random): { readonly lost: readonly number[] } | { readonly bounced: readonly number[] } {
  const at = () => 8 + random.below(20)
  if (happens(random, 0.3)) return { bounced: [at()] }
  return { lost: Array.from({ length: 1 + random.below(3) }, at) }
}
