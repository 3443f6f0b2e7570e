import type { Feature, HoleScene } from '../scene.ts'
import { oneOf, within } from './chance.ts'
import { facesOf, layerIn, type Trouble } from './drawing.ts'
import { mm } from './geometry.ts'
import { LIFTOFF } from './scenes.ts'

/** What belongs to the part and is no flaw, drawn. */

const withFeature = (scene: HoleScene, ...more: readonly Feature[]): HoleScene => ({
  ...scene,
  features: [...(scene.features ?? []), ...more]
})

const splitLine: Trouble = ({ scene, random, size, toward }) =>
  withFeature(scene, {
    kind: 'split line',
    angle_turn: random.uniform(),
    ...layerIn(scene, random),
    size: size([0.6, 1.5]),
    direction_rad: toward([-0.1, 0.2])
  })

const bushing: Trouble = ({ scene, random, size, toward }) =>
  withFeature(scene, {
    kind: 'bushing',
    ...layerIn(scene, random),
    width_m: mm(within(random, [0.8, 1.4])),
    uneven: within(random, [0, 0.15]),
    uneven_turn: random.uniform(),
    size: size([2, 5]),
    direction_rad: toward([0.4, 1.6])
  })

const patch =
  (kind: 'conductivity patch' | 'permeability patch', direction: readonly [number, number]): Trouble =>
  ({ scene, random, size, toward, stretch }) =>
    withFeature(scene, {
      kind,
      angle_turn: random.uniform(),
      width_m: mm(within(random, [1.5, 3])),
      ...stretch([1.5, 4]),
      size: size([0.4, 1.2]),
      direction_rad: toward(direction)
    })

/** On every sheet, at both of its faces. */
const cladding: Trouble = ({ scene, random, size, toward }) => {
  const faces = facesOf(scene)
  const thickness = mm(within(random, [0.05, 0.12]))
  const common = { kind: 'cladding', size: size([0.3, 1]), direction_rad: toward([0.4, 0.8]) } as const
  return withFeature(
    scene,
    ...faces.slice(1).flatMap((to, k) => {
      const from = faces[k]!
      return [
        { ...common, z0_m: from, z1_m: from + thickness },
        { ...common, z0_m: to - thickness, z1_m: to }
      ]
    })
  )
}

/** In a joint; a single layer has it at a face, where it was squeezed in. */
const sealant: Trouble = ({ scene, random, size }) => {
  const faces = facesOf(scene)
  const z_m = faces.length > 2 ? faces[1 + random.below(faces.length - 2)]! : oneOf(random, faces)
  return withFeature(scene, {
    kind: 'sealant',
    z_m,
    thickness_m: mm(within(random, [0.1, 0.4])),
    angle_turn: random.uniform(),
    width_m: mm(within(random, [1, 3])),
    size: size([0.4, 1.5]),
    direction_rad: LIFTOFF - within(random, [-0.1, 0.25])
  })
}

const neighborMetal: Trouble = ({ scene, random, size, toward }) => {
  const faces = facesOf(scene)
  const z_m = faces.length > 2 ? faces[1 + random.below(faces.length - 2)]! : scene.hole.grip_m
  return withFeature(scene, {
    kind: 'neighbor metal',
    z_m,
    side: z_m === scene.hole.grip_m ? -1 : oneOf(random, [1, -1] as const),
    width_m: mm(within(random, [0.8, 1.2])),
    reach_m: mm(within(random, [0.4, 1])),
    size: size([1, 3]),
    direction_rad: toward([-0.6, 1.4])
  })
}

export const featureTroubles = {
  'split line': splitLine,
  bushing,
  'conductivity patch': patch('conductivity patch', [0.4, 0.75]),
  'permeability patch': patch('permeability patch', [-0.5, 0.1]),
  cladding,
  sealant,
  'neighbor metal': neighborMetal
} satisfies Record<Feature['kind'], Trouble>
