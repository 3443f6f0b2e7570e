import type { Random } from '@trueloop/ground/numerics'
import type { HoleSheet } from '../../plan/index.ts'
import type { Flaw } from '../scene.ts'

type Hole = HoleSheet['holes'][number]

/** Half a flaw sought to twice one. */
const SIZES = { least: 0.5, most: 2 }
/** Length over depth, as a share of that of the flaw sought. */
const ASPECTS = { least: 0.8, most: 1.6 }
/** Sizes in steps, so that few tables serve many flaws. */
const STEP_mm = 0.1
/** How deep a flaw may be in a round wall: a share of its radius. */
const DEEPEST = 0.55

const stepped = (mm: number): number => Math.max(2, Math.round(mm / STEP_mm)) * STEP_mm
const between = (random: Random, { least, most }: { readonly least: number; readonly most: number }): number =>
  least + (most - least) * random.uniform()

/**
 * A crack drawn for a hole: mid-bore or at a corner of a layer, around the size that the technique seeks; undefined where a
 * layer is too thin for what was drawn.
 */
export function crackIn(hole: Hole, { target_flaw_mm }: HoleSheet['technique'], random: Random): Flaw | undefined {
  const ends = [0, ...hole.interfaces_mm, hole.grip_mm]
  const layer = Math.min(ends.length - 2, Math.floor(random.uniform() * (ends.length - 1)))
  const [from, to] = [ends[layer]!, ends[layer + 1]!]
  const drawn = between(random, SIZES)
  const depth_mm = stepped(Math.min(target_flaw_mm.depth * drawn, DEEPEST * 0.5 * hole.diameter_mm))
  const aspect = (target_flaw_mm.length / target_flaw_mm.depth) * between(random, ASPECTS)
  const length_mm = stepped(depth_mm * aspect)
  const kind = random.uniform()
  const angle_turn = random.uniform()
  const free = to - from - length_mm
  if (free < 0.4) return undefined
  const z0_mm = kind < 0.25 ? from : kind < 0.5 ? to - length_mm : from + 0.2 + (free - 0.4) * random.uniform()
  const z1_mm = z0_mm + length_mm
  const flaw = {
    ...({ kind: 'crack', angle_turn } as const),
    ...{ depth_m: depth_mm * 1e-3, length_m: length_mm * 1e-3, z0_m: z0_mm * 1e-3, z1_m: z1_mm * 1e-3 }
  }
  const joint = kind < 0.25 ? from : kind < 0.5 ? to : undefined
  if (joint === undefined || joint === 0 || joint === hole.grip_mm) return flaw
  return { ...flaw, corner: { z_m: joint * 1e-3, width_m: 1e-3, side: kind < 0.25 ? 1 : -1 } }
}
