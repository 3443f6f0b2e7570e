import type { Random } from '@trueloop/ground/numerics'
import type { HoleScene } from '../scene.ts'
import { flawSize } from '../terms/flaw.ts'
import { type Range, within } from './chance.ts'
import { mm } from './geometry.ts'
import { LIFTOFF } from './scenes.ts'
import type { Setup } from './setup.ts'

/** What a trouble is drawn from: the hole it comes into, sizes in alarm notches, directions from a flaw to lift-off. */
export interface Drawing {
  readonly scene: HoleScene
  readonly random: Random
  /** a peak-to-peak, in alarm notches */
  readonly size: (range: Range) => number
  /** 0 along a flaw, 1 along lift-off */
  readonly toward: (range: Range) => number
  /** a stretch within a layer */
  readonly stretch: (length_mm: Range) => { readonly z0_m: number; readonly z1_m: number }
}

/** Changes a scene by one trouble. */
export type Trouble = (drawing: Drawing) => HoleScene

export function drawingOf(setup: Setup, scene: HoleScene, random: Random): Drawing {
  const { depth } = setup.technique.target_flaw_mm
  const notch = setup.referenceScene.flaws.find(({ depth_m }) => depth_m === mm(depth))
  if (notch === undefined) throw new Error('the alarm notch of a drawn set-up is cut into its standard')
  const alarm = flawSize(setup.referenceScene, notch)
  const { direction_rad } = setup.plain.probe.flaw
  return {
    scene,
    random,
    size: (range) => alarm * within(random, range),
    toward: (range) => direction_rad + within(random, range) * (LIFTOFF - direction_rad),
    stretch: (length_mm) => stretchIn(scene, mm(within(random, length_mm)), random)
  }
}

/** Faces of the layers, the outer ones included, in m. */
export const facesOf = ({ joints, hole }: HoleScene): readonly number[] => [
  0,
  ...joints.map(({ z_m }) => z_m),
  hole.grip_m
]

/** A layer by its faces. */
export function layerIn(scene: HoleScene, random: Random): { readonly z0_m: number; readonly z1_m: number } {
  const faces = facesOf(scene)
  const k = random.below(faces.length - 1)
  return { z0_m: faces[k]!, z1_m: faces[k + 1]! }
}

/** Within a layer if it is long enough, else all of the layer. */
function stretchIn(scene: HoleScene, length_m: number, random: Random) {
  const layer = layerIn(scene, random)
  const free = layer.z1_m - layer.z0_m - length_m
  if (free <= 0) return layer
  const z0_m = layer.z0_m + free * random.uniform()
  return { z0_m, z1_m: z0_m + length_m }
}
