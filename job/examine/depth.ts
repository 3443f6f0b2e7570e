import type { Result } from '@trueloop/ground/refusal'
import type { Hole, HoleTechnique } from '../plan/index.ts'
import { UNIT } from '../signal/index.ts'
import type { Edges } from '../standardize/index.ts'
import { refuse } from './codes.ts'

/** Depth from the entry face along the ruler, and how it is known. */
export interface Depth {
  readonly basis: string
  readonly uncertainty_m: number
  readonly pitch_m: number
  at(point: number): number
  pointAt(depth_m: number): number
}

/** Encoder positions at the beginnings of revolutions. */
export interface EncoderTrace {
  readonly revolution: readonly number[]
  readonly position_m: readonly number[]
}

/** A step inside one pitch is seen as somewhere in it: pitch/√12, as a standard uncertainty. */
const withinPitch = (pitch_m: number): number => pitch_m / 3.4641016151377544
/** Share by which a feed held by hand or by a plain drive may differ from its nominal value. Common practice, no source. */
const FEED_SHARE = 0.02

/**
 * Depth scale of a hole as the technique wants it: from entry and exit edges with the known grip, from a constant feed
 * counted from the entry edge, or from an encoder counted from the entry edge. Refuses `examine/no-axial-position`.
 */
export function depthOf(
  edges: Edges,
  {
    technique,
    hole,
    encoder
  }: { readonly technique: HoleTechnique; readonly hole: Hole; readonly encoder: EncoderTrace }
): Result<Depth> {
  const grip = hole.grip_mm * 1e-3
  if (technique.axial_position === 'entry and exit edges') {
    const perPoint = grip / (edges.exit - edges.entry)
    const pitch_m = perPoint * UNIT
    const basis = `entry and exit edges with the known grip of ${hole.grip_mm} mm`
    return {
      ...linear(edges.entry, perPoint),
      basis,
      pitch_m,
      uncertainty_m: Math.sqrt(2) * withinPitch(pitch_m)
    }
  }
  if (technique.axial_position === 'constant feed') {
    if (technique.pitch_mm === undefined) return noPosition('a constant feed without its pitch')
    const pitch_m = technique.pitch_mm * 1e-3
    const basis = `constant feed of ${technique.pitch_mm} mm a revolution from the entry edge`
    const share = FEED_SHARE * grip
    return {
      ...linear(edges.entry, pitch_m / UNIT),
      basis,
      pitch_m,
      uncertainty_m: Math.sqrt(withinPitch(pitch_m) * withinPitch(pitch_m) + share * share)
    }
  }
  if (technique.axial_position === 'encoder') return encoded(edges, encoder)
  return noPosition('a hand feed without an encoder: strokes give no scale')
}

function linear(entry: number, perPoint: number): Pick<Depth, 'at' | 'pointAt'> {
  return { at: (point) => (point - entry) * perPoint, pointAt: (depth_m) => entry + depth_m / perPoint }
}

function encoded(edges: Edges, { revolution, position_m }: EncoderTrace): Result<Depth> {
  if (revolution.length < 2) return noPosition('no encoder positions')
  const steps = position_m.slice(1).map((position, i) => position - position_m[i]!)
  const forward = steps.every((step) => step > 0) || steps.every((step) => step < 0)
  if (!forward) return noPosition('an encoder that stands or runs back')
  const sense = steps[0]! > 0 ? 1 : -1
  const position = (point: number) => sense * interpolated(revolution, position_m, point / UNIT)
  const entry = position(edges.entry)
  const pitch_m = (position(edges.exit) - entry) / ((edges.exit - edges.entry) / UNIT)
  return {
    basis: 'encoder, counted from the entry edge',
    uncertainty_m: withinPitch(pitch_m),
    pitch_m,
    at: (point) => position(point) - entry,
    pointAt: (depth_m) => UNIT * inverse(revolution, position_m, sense * (entry + depth_m))
  }
}

/** Linear between known values, drawn out beyond the ends; `at` ascending. */
function interpolated(at: readonly number[], values: readonly number[], where: number): number {
  let i = 1
  while (i < at.length - 1 && at[i]! < where) i++
  const share = (where - at[i - 1]!) / (at[i]! - at[i - 1]!)
  return values[i - 1]! + share * (values[i]! - values[i - 1]!)
}

function inverse(at: readonly number[], values: readonly number[], value: number): number {
  const up = values.at(-1)! > values[0]! ? 1 : -1
  return interpolated(
    values.map((v) => up * v),
    at,
    up * value
  )
}

const noPosition = (found: string) =>
  refuse('examine/no-axial-position', {
    found,
    needed: 'a pitch, entry and exit edges, or an encoder that advances',
    remedy: 'state the pitch in the technique, name the position column, or take depth from the edges'
  })
