import type { Features } from '../features.ts'
import type { FeatureContext, Layer } from './context.ts'
import type { Ridge } from './ridge.ts'

type Extent = Pick<Features, 'extent_m' | 'layerShare' | 'toFace_m' | 'face'>

const unknown: Extent = {
  extent_m: 'unknown',
  layerShare: 'unknown',
  toFace_m: 'unknown',
  face: 'unknown'
}

/** Where the −6 dB run of a ridge lies along the axis and in the stack; `'unknown'` without a depth, or without layers. */
export function extentFeatures({ from, to }: Ridge, { depth, layers = [] }: FeatureContext): Extent {
  if (depth === undefined) return unknown
  const [a, b] = [depth(from), depth(to)]
  const run = { z0_m: Math.min(a, b), z1_m: Math.max(a, b) }
  const extent_m = run.z1_m - run.z0_m
  const middle = 0.5 * (run.z0_m + run.z1_m)
  const layer = layers.reduce<Layer | undefined>(
    (best, one) => (best === undefined || outside(one, middle) < outside(best, middle) ? one : best),
    undefined
  )
  if (layer === undefined) return { ...unknown, extent_m }
  const share = common(layer, run) / (layer.z1_m - layer.z0_m)
  const { toFace_m, face } = nearestFace(layers, middle)
  return { extent_m, layerShare: Math.min(1, share), toFace_m, face }
}

/** How far a depth lies outside a layer, m; 0 in it. */
const outside = ({ z0_m, z1_m }: Layer, z: number): number => Math.max(0, z0_m - z, z - z1_m)

const common = (a: Layer, b: Layer): number => Math.max(0, Math.min(a.z1_m, b.z1_m) - Math.max(a.z0_m, b.z0_m))

function nearestFace(layers: readonly Layer[], middle: number): Pick<Extent, 'toFace_m' | 'face'> {
  const entry = layers.reduce((least, { z0_m }) => Math.min(least, z0_m), Number.POSITIVE_INFINITY)
  const exit = layers.reduce((most, { z1_m }) => Math.max(most, z1_m), Number.NEGATIVE_INFINITY)
  const faces = layers.flatMap(({ z0_m, z1_m }) => [z0_m, z1_m])
  const nearest = faces.reduce((best, z) => (Math.abs(z - middle) < Math.abs(best - middle) ? z : best), faces[0]!)
  const face = nearest === entry ? 'entry' : nearest === exit ? 'exit' : 'joint'
  return { toFace_m: Math.abs(nearest - middle), face }
}
