import type { ZoneCoverage } from './coverage.ts'
import { coverageOf, type Unusable } from './coverage.ts'
import type { Depth } from './depth.ts'
import type { Depths } from './strokes.ts'
import type { Zone } from './zones.ts'

/** A stretch of the ruler, points. */
export interface Stretch {
  readonly from: number
  readonly to: number
}

/** A layer of the hole, in order from the entry face. */
export interface Layer {
  readonly z0_m: number
  readonly z1_m: number
}

/** What a zone's coverage is judged by. */
export interface Passed {
  readonly unusable: readonly Unusable[]
  /** ruler points that were conditioned */
  readonly range: Stretch
  readonly maxPitch_m: number
}

/** What is known of the place along the axis over one recording: by a scale, or by strokes as a band. */
export interface Along {
  /** how depth is known, in words, and its standard uncertainty (of a band: half its greatest width) */
  readonly basis: string
  readonly uncertainty_m: number
  /** the scale; absent where depth is a band only */
  readonly scale: Depth | undefined
  /** mean advance a revolution between the faces */
  readonly pitch_m: number
  /** ruler points between which the probe passed through the metal, one stretch a pass */
  readonly passes: readonly Stretch[]
  /** number of the pass that a point belongs to, and of the layer it lies in */
  passAt(point: number): number
  layerAt(point: number): number
  /** whether a point lies in the hole or so near before it that its field reaches in */
  isNear(point: number): boolean
  /** depths between which what lies from one ruler point to another is, cut at the layer where that is told */
  between(from: number, to: number, at: number): Depths
  coverageOf(zone: Zone, passed: Passed): ZoneCoverage
}

export interface Scaled {
  readonly depth: Depth
  /** entry and exit, ruler points */
  readonly faces: Stretch
  readonly layers: readonly Layer[]
}

/** The place along the axis by a scale of depth. */
export function byScale({ depth, faces, layers }: Scaled): Along {
  const grip_m = layers.at(-1)!.z1_m
  const beyond = 2 * depth.pitch_m + 0.5e-3
  const layerAt = (point: number) => layerOf(layers, depth.at(point))
  return {
    basis: depth.basis,
    uncertainty_m: depth.uncertainty_m,
    scale: depth,
    pitch_m: depth.pitch_m,
    passes: [faces],
    passAt: () => 0,
    layerAt,
    isNear: (point) => depth.at(point) > -beyond && depth.at(point) < grip_m + beyond,
    between: (from, to, at) => {
      const layer = layers[layerAt(at)]!
      return { least_m: within(depth.at(from), layer), most_m: within(depth.at(to), layer) }
    },
    coverageOf: (zone, passed) => coverageOf(zone, { depth, ...passed })
  }
}

export const within = (z_m: number, { z0_m, z1_m }: Layer): number => Math.min(z1_m, Math.max(z0_m, z_m))

export function layerOf(layers: readonly Layer[], z_m: number): number {
  const at = layers.findIndex(({ z1_m }) => z_m < z1_m)
  return at < 0 ? layers.length - 1 : at
}
