import type { Damage, HoleScene } from '../scene.ts'
import { within } from './chance.ts'
import { facesOf, type Trouble } from './drawing.ts'
import { mm } from './geometry.ts'

/** Damage and tool marks, drawn. */

const withDamage = (scene: HoleScene, one: Damage): HoleScene => ({ ...scene, damage: [...scene.damage, one] })

/** Along most of the hole, straight or a little helical, between flaw and lift-off and toward lift-off. */
const scratch: Trouble = ({ scene, random, size, toward }) => {
  const grip = scene.hole.grip_m
  return withDamage(scene, {
    kind: 'scratch',
    angle_turn: random.uniform(),
    helix_turn_per_m: within(random, [-12, 12]),
    width_m: mm(within(random, [0.05, 0.25])),
    z0_m: grip * within(random, [0.02, 0.2]),
    z1_m: grip * within(random, [0.75, 0.98]),
    size: size([0.3, 1.2]),
    direction_rad: toward([0.7, 1])
  })
}

const galledPatch: Trouble = ({ scene, random, size, toward, stretch }) =>
  withDamage(scene, {
    kind: 'galled patch',
    angle_turn: random.uniform(),
    width_m: mm(within(random, [0.8, 2])),
    ...stretch([1.2, 2.5]),
    grain_m: mm(within(random, [0.45, 0.8])),
    size: size([0.3, 0.8]),
    direction_rad: toward([0.75, 1])
  })

const chatter: Trouble = ({ scene, random, size, toward, stretch }) =>
  withDamage(scene, {
    kind: 'chatter',
    per_turn: 12 + random.below(18),
    phase_turn: random.uniform(),
    ...stretch([2, 6]),
    size: size([0.08, 0.25]),
    direction_rad: toward([0.9, 1.05])
  })

const pit: Trouble = ({ scene, random, size, toward, stretch }) =>
  withDamage(scene, {
    kind: 'pit',
    angle_turn: random.uniform(),
    width_m: mm(within(random, [0.15, 0.4])),
    ...stretch([0.2, 0.6]),
    size: size([0.5, 1.5]),
    roundness: within(random, [0.3, 0.6]),
    direction_rad: toward([0.05, 0.35])
  })

/** Beside a joint, or in a single layer beside a face. */
const fretting: Trouble = ({ scene, random, size, toward }) => {
  const faces = facesOf(scene)
  const face = faces[faces.length > 2 ? 1 + random.below(faces.length - 2) : 0]!
  const height = mm(within(random, [0.6, 1.5]))
  return withDamage(scene, {
    kind: 'fretting',
    angle_turn: random.uniform(),
    width_m: random.uniform() < 0.4 ? 0 : mm(within(random, [2, 4])),
    z0_m: Math.max(0, face - 0.3 * height),
    z1_m: face + height,
    grain_m: mm(within(random, [0.35, 0.6])),
    size: size([0.3, 0.8]),
    direction_rad: toward([0.3, 0.8])
  })
}

const burr: Trouble = ({ scene, random, size, toward }) => {
  const isEntry = random.uniform() < 0.5
  const height = mm(within(random, [0.15, 0.4]))
  const grip = scene.hole.grip_m
  return withDamage(scene, {
    kind: 'burr',
    angle_turn: random.uniform(),
    tail_m: mm(within(random, [0.4, 0.9])),
    ...(isEntry ? { z0_m: -height, z1_m: 0 } : { z0_m: grip, z1_m: grip + height }),
    size: size([0.4, 1.2]),
    direction_rad: toward([0.3, 1.2])
  })
}

export const damageTroubles = {
  scratch,
  'galled patch': galledPatch,
  chatter,
  pit,
  fretting,
  burr
} satisfies Record<Damage['kind'], Trouble>
