import { cos, PI, type Random, TAU } from '@trueloop/ground/numerics'
import { axialProfile, bell, folded, halfDistance } from './bell.ts'
import { type Stretch, type WallField, wallField } from './lattice.ts'
import type { Face, HoleScene } from './scene.ts'

/** Shapes in a scene: along the angle, along the axis, and smooth random ones all over the wall. */

export interface Extent {
  readonly z0_m: number
  readonly z1_m: number
}

/** Shift of a face that is not square to the hole, at an angle of the wall. */
export const faceAt = (face: Pick<Face, 'tilt_m' | 'tilt_turn'>, wall: number): number =>
  face.tilt_m === 0 ? 0 : face.tilt_m * cos(TAU * (wall - face.tilt_turn))

/** The depths over which a field on the wall has to reach, with room for its outer knots. */
export const reachOf = ({ hole }: HoleScene, knot: number): Stretch => {
  const tilt = Math.max(hole.entry.tilt_m, hole.exit.tilt_m)
  const margin = tilt + Math.max(hole.entry.width_m, hole.exit.width_m) + 3 * knot
  return { from: -margin, to: hole.grip_m + margin }
}

export const fieldOf = (
  scene: HoleScene,
  form: { readonly rms: number; readonly length_m: number },
  random: Random
): WallField =>
  wallField({ ...form, around_m: PI * scene.hole.diameter_m, along: reachOf(scene, form.length_m) }, random)

/** The bell of a pick-up along the angle, `widen_m` added in quadrature; (turns from its center) → value. */
export function angularBell({ hole, probe }: HoleScene, widen_m: number): (turns: number) => number {
  const h = halfDistance(probe.lobe_spacing_m)
  const arcs = (PI * hole.diameter_m) / Math.sqrt(h * h + widen_m * widen_m)
  return (turns) => bell(folded(turns) * arcs)
}

/** Whether an extent touches a face of the part or a joint. */
export function touchesFace({ joints, hole }: HoleScene, { z0_m, z1_m }: Extent): boolean {
  const faces = [0, ...joints.map(({ z_m }) => z_m), hole.grip_m]
  return faces.some((face) => Math.abs(face - z0_m) < 1e-6 || Math.abs(face - z1_m) < 1e-6)
}

/**
 * What one thing on the wall gives along the axis, largest value 1: its extent through the footprint, and twice so, apart by
 * the pair's own length, where the pair has one and the thing lies free of faces. source: split-d-2011
 */
export function axialAnswer(scene: HoleScene, extent: Extent): (z: number) => number {
  const single = axialProfile(extent, scene.probe.footprint_m)
  const apart = scene.probe.axial_lobes_m ?? 0
  if (apart === 0 || touchesFace(scene, extent)) return single
  const half = apart / 2
  const both = (z: number): number => single(z - half) + single(z + half)
  const most = largest(both, { from: (extent.z0_m + extent.z1_m) / 2, to: extent.z1_m + apart })
  return (z) => both(z) / most
}

/** Largest value of a function with one maximum over a stretch: the best of a fine scan, then thirds of its surroundings. */
function largest(of: (z: number) => number, { from, to }: Stretch): number {
  const step = (to - from) / SCAN
  let best = 0
  for (let k = 1; k <= SCAN; k++) if (of(from + k * step) > of(from + best * step)) best = k
  let [low, high] = [from + (best - 1) * step, from + (best + 1) * step]
  for (let k = 0; k < 80; k++) {
    const third = (high - low) / 3
    if (of(low + third) < of(high - third)) low += third
    else high -= third
  }
  return of((low + high) / 2)
}

const SCAN = 64
