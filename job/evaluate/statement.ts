import type { Refusal } from '@trueloop/ground/refusal'

/** What may be said of a size from notches alone. Lengths in mm, because it is a sentence for a person. */
export interface SizeStatement {
  readonly depth: string
  /**
   * Without a depth: bounds by notches. With one: the ends of its interval; an end beyond the notches is not stated.
   * Notch-equivalent (a crack that answers so is at least this deep, as far as cracks answer weaker than notches) unless
   * `ratio` says what it was turned into a crack's with.
   */
  readonly lower_mm?: number
  readonly upper_mm?: number
  /** depth, and the level of its interval */
  readonly depth_mm?: number
  readonly level?: number
  /** what it was told by */
  readonly basis?: string
  /** the notch-equivalent depth, where `depth_mm` is a crack's */
  readonly equivalent?: DepthRange
  readonly ratio?: RatioUsed
  readonly extent: string
  readonly extent_mm?: number
  /** length with the footprint of the probe taken out; without a value the upper bound holds */
  readonly length?: string
  readonly length_mm?: number
  readonly length_lower_mm?: number
  readonly length_upper_mm?: number
  /** footprint at half its height, as the notches show it */
  readonly footprint_mm?: number
  readonly withheld: readonly string[]
  /** what of the size is held back, and why */
  readonly why?: readonly Refusal[]
}

export interface DepthRange {
  readonly depth_mm?: number
  readonly lower_mm?: number
  readonly upper_mm?: number
}

export interface RatioUsed {
  readonly name: string
  readonly ratio: number
  readonly spread: number
  readonly cracks: number
  readonly source: string
  readonly approved: string
}

/** To a thousandth: more digits than a person needs, few enough to read. */
export const rounded = (mm: number): number => Math.round(1000 * mm) / 1000

const text = (mm: number): string => `${mm.toFixed(2)} mm`

/** A depth with its interval, or its bound, in words. */
export function rangeText({ depth_mm, lower_mm, upper_mm }: DepthRange): string {
  if (depth_mm !== undefined) {
    const from = lower_mm === undefined ? 'below the smallest notch' : text(lower_mm)
    const to = upper_mm === undefined ? 'beyond the deepest notch' : text(upper_mm)
    return `${text(depth_mm)} (${from} to ${to})`
  }
  if (lower_mm !== undefined && upper_mm !== undefined) return `${text(lower_mm)} to ${text(upper_mm)}`
  if (lower_mm !== undefined) return `≥ ${text(lower_mm)}`
  return upper_mm === undefined ? 'not told' : `≤ ${text(upper_mm)}`
}

interface LengthRange {
  readonly length_mm?: number
  readonly lower_mm?: number
  readonly upper_mm: number
}

export const lengthText = ({ length_mm, lower_mm, upper_mm }: LengthRange): string =>
  length_mm === undefined || lower_mm === undefined
    ? `≤ ${text(upper_mm)}, footprint taken out`
    : `${text(length_mm)} (${text(lower_mm)} to ${text(upper_mm)}), footprint taken out`

/** Of a statement without values that are not there. */
export const rangeOf = ({ depth_mm, lower_mm, upper_mm }: DepthRange): DepthRange => ({
  ...(depth_mm === undefined ? {} : { depth_mm: rounded(depth_mm) }),
  ...(lower_mm === undefined ? {} : { lower_mm: rounded(lower_mm) }),
  ...(upper_mm === undefined ? {} : { upper_mm: rounded(upper_mm) })
})
