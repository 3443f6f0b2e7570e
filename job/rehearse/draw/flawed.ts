import { PI, type Random } from '@trueloop/ground/numerics'
import type { Flaw, HoleScene } from '../scene.ts'
import { ASKEW_m, blankScene, type DrawnHole, drawnHole, recordingSeed, streamOf } from './blank.ts'
import { logNormal, oneOf, type Range, slots, within } from './chance.ts'
import { mm } from './geometry.ts'
import type { Setup } from './setup.ts'

export interface FlawWish {
  readonly kind: Flaw['kind']
  readonly depth_mm: Range
  /** absent: either, as it falls */
  readonly place?: 'mid-bore' | 'corner'
  /** flaws in the hole, far apart in angle; absent: one */
  readonly count?: number
  /** depths instead of a range, one a flaw */
  readonly depths_mm?: readonly number[]
}

/**
 * A hole with flaws and nothing else amiss. A notch-like one answers by the law of the notches with their scatter and about
 * their length over depth; a crack weaker, with a scatter of its own. Flaws keep within a layer. A flaw too long for the
 * mid-bore of any layer lies at a corner.
 */
export function drawFlawed(setup: Setup, seed: number, wish: FlawWish): DrawnHole {
  const random = streamOf(setup, seed, `${wish.kind} ${wish.place ?? ''}`)
  const scene = blankScene(setup, random.fork('hole'), wish.kind === 'crack' ? ASKEW_m : undefined)
  const count = wish.depths_mm?.length ?? wish.count ?? 1
  const turns = slots(random.fork('angles'), count, 0.2)
  const flaws = turns.map((angle_turn, k) => {
    const own = random.fork(`flaw ${k}`)
    const depth_mm = wish.depths_mm?.[k] ?? within(own, wish.depth_mm)
    return drawFlaw({ setup, scene, wish, angle_turn, depth_mm }, own)
  })
  return drawnHole({ ...scene, flaws }, recordingSeed(random))
}

/** How many flaws a hole can hold so that their lobes lie three spacings apart or more, at most six. */
export const mostFlaws = ({ technique, hole }: Setup): number =>
  Math.max(1, Math.min(6, Math.floor((PI * hole.diameter_mm) / (3.5 * technique.lobe_spacing_mm))))

interface Wanted {
  readonly setup: Setup
  readonly scene: HoleScene
  readonly wish: FlawWish
  readonly angle_turn: number
  readonly depth_mm: number
}

function drawFlaw({ setup, scene, wish, angle_turn, depth_mm }: Wanted, random: Random): Flaw {
  const wanted = wish.place ?? oneOf(random, ['mid-bore', 'corner'] as const)
  const { aspects, spread } = setup
  const factor = logNormal(random, spread.aspect)
  const scatter = logNormal(random, wish.kind === 'crack' ? spread.crack : spread.notch)
  const layers = layersOf(scene)
  const long = depth_mm * aspects['mid-bore'] * factor
  const inside = wanted === 'mid-bore' ? layers.filter((one) => room(one) >= long) : []
  const place =
    inside.length > 0
      ? midBore(oneOf(random, inside), long, random)
      : corner(
          layers,
          { length_mm: depth_mm * aspects['entry corner'] * factor, width_m: scene.hole.entry.width_m },
          random
        )
  return { kind: wish.kind, depth_m: mm(depth_mm), angle_turn, scatter, ...place }
}

interface Layer {
  readonly from_mm: number
  readonly to_mm: number
  readonly isFirst: boolean
  readonly isLast: boolean
}

function layersOf({ joints, hole }: HoleScene): readonly Layer[] {
  const faces = [0, ...joints.map(({ z_m }) => 1000 * z_m), 1000 * hole.grip_m]
  return faces.slice(1).map((to_mm, k) => ({
    from_mm: faces[k]!,
    to_mm,
    isFirst: k === 0,
    isLast: k === faces.length - 2
  }))
}

/** What the faces of a layer leave to a flaw of the bore. */
const FREE_mm = 1

const room = ({ from_mm, to_mm }: Layer): number => to_mm - from_mm - 2 * FREE_mm

type Placed = Pick<Flaw, 'z0_m' | 'z1_m' | 'length_m' | 'corner'>

function midBore(layer: Layer, length_mm: number, random: Random): Placed {
  const z0_mm = layer.from_mm + FREE_mm + (room(layer) - length_mm) * random.uniform()
  return { z0_m: mm(z0_mm), z1_m: mm(z0_mm + length_mm), length_m: mm(length_mm) }
}

interface CornerForm {
  readonly length_mm: number
  readonly width_m: number
}

/** At the upper or lower face of a layer; in the thickest one where it is too long for the one drawn. */
function corner(layers: readonly Layer[], { length_mm, width_m }: CornerForm, random: Random): Placed {
  const thickest = layers.reduce((best, one) => (room(one) > room(best) ? one : best))
  const first = oneOf(random, layers)
  const layer = first.to_mm - first.from_mm > length_mm + 0.2 ? first : thickest
  const isUpper = random.uniform() < 0.5
  const z_m = mm(isUpper ? layer.from_mm : layer.to_mm)
  const length_m = mm(length_mm)
  const isJoint = isUpper ? !layer.isFirst : !layer.isLast
  const side = isUpper ? 1 : -1
  return {
    ...(isUpper ? { z0_m: z_m, z1_m: z_m + length_m } : { z0_m: z_m - length_m, z1_m: z_m }),
    length_m,
    ...(isJoint ? { corner: { z_m, width_m, side } } : {})
  }
}
