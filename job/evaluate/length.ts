import { normalQuantile } from '@trueloop/ground/numerics'
import type { Refusal } from '@trueloop/ground/refusal'
import { refuse } from './codes.ts'
import { bestLength, type Fits } from './fits.ts'
import { likelihoodOf } from './likelihood.kernel.ts'
import type { Sizing } from './parameters.ts'
import { lowestBeside, quantileOf } from './picks.ts'
import type { Footprint } from './width.ts'

/** Length along the axis with the footprint taken out. */
export interface Length {
  /** absent where the flaw is not told from a point: then the upper bound alone holds */
  readonly length_mm?: number
  readonly lower_mm?: number
  readonly upper_mm: number
  readonly why: readonly Refusal[]
}

/** Faces of the layer that the flaw lies in, mm from the entry face: it ends there. */
export interface Faces {
  readonly from_mm: number
  readonly to_mm: number
}

export interface LengthAsked {
  readonly footprint: Footprint
  readonly faces: Faces | undefined
  readonly numbers: Pick<Sizing, 'leftOut'>
}

/**
 * Length by what the rows, as fits of each length, do not contradict through the footprint, every length weighing alike before; the interval also
 * carries the scatter of the notches' lengths. A flaw that is not told from a point, or told no closer than the footprint, has "≤" its upper bound. What would
 * lie beyond the faces of its layer is cut off. Codes: evaluate/below-footprint, evaluate/runs-into-face.
 */
export function lengthOf(
  fits: Pick<Fits, 'length_mm' | 'middle_mm' | 'misfit'>,
  { footprint, faces, numbers }: LengthAsked
): Length {
  const { width_mm, scatter_mm } = footprint
  const { length_mm: lengths, misfit } = fits
  const best = bestLength(fits)
  const length = Math.max(0, lowestBeside(lengths, misfit, best))
  const weights = new Float64Array(misfit.length)
  for (let j = 0; j < misfit.length; j++) weights[j] = likelihoodOf(misfit[j]! - misfit[best]!) * stretchOf(lengths, j)
  const reach = normalQuantile(1 - 0.5 * numbers.leftOut)
  const end = (share: number) => {
    const off = quantileOf(lengths, weights, share) - length
    return Math.sqrt(off * off + reach * scatter_mm * reach * scatter_mm)
  }
  const pointLike = misfit[0]! - misfit[best]! < reach * reach
  const tail = 0.5 * numbers.leftOut
  const ends = end(tail) + end(1 - tail)
  if (pointLike || ends > width_mm) return short(length + end(1 - tail), width_mm)
  const whole = {
    length_mm: length,
    lower_mm: Math.max(0, length - end(tail)),
    upper_mm: length + end(1 - tail)
  }
  return faces === undefined ? { ...whole, why: [] } : cut(whole, fits.middle_mm[best]!, faces)
}

/** What of the axis a length stands for: half way to its neighbors. */
const stretchOf = (lengths: Float64Array, i: number): number =>
  0.5 * (lengths[Math.min(lengths.length - 1, i + 1)]! - lengths[Math.max(0, i - 1)]!)

const short = (upper_mm: number, width_mm: number): Length => ({
  upper_mm,
  why: [
    refuse('evaluate/below-footprint', {
      found: `an extent along the axis that a point would show too (footprint ${width_mm.toFixed(2)} mm)`,
      needed: 'a flaw longer than what the footprint hides',
      remedy: 'take the length as at most the bound stated'
    })
  ]
})

interface Whole {
  readonly length_mm: number
  readonly lower_mm: number
  readonly upper_mm: number
}

/** What would lie beyond a face is cut off; said where it is more than the uncertainty of the length. */
function cut(whole: Whole, middle_mm: number, { from_mm, to_mm }: Faces): Length {
  const half = 0.5 * whole.length_mm
  const beyond = Math.max(0, from_mm - (middle_mm - half)) + Math.max(0, middle_mm + half - to_mm)
  const most = to_mm - from_mm
  const length_mm = Math.min(most, Math.max(0, whole.length_mm - beyond))
  const ends = {
    length_mm,
    lower_mm: Math.min(length_mm, Math.max(0, whole.lower_mm - beyond)),
    upper_mm: Math.max(length_mm, Math.min(most, whole.upper_mm))
  }
  return { ...ends, why: beyond > whole.upper_mm - whole.length_mm ? [intoFace(beyond)] : [] }
}

const intoFace = (beyond_mm: number): Refusal =>
  refuse('evaluate/runs-into-face', {
    found: `an extent that would go ${beyond_mm.toFixed(2)} mm beyond a face or joint of its layer`,
    needed: 'an extent that ends inside the layer',
    remedy: 'the length is stated up to the face; look at the other layer for a flaw of its own'
  })
