import type { NotchReading } from '../standardize/index.ts'

/** What notches say without any curve: between which of them an answer lies. */

export interface Bounds {
  readonly depth: string
  /** notch-equivalent: a crack that answers so is at least this deep, as far as cracks answer weaker than notches */
  readonly lower_mm?: number
  /** notch-equivalent only: a crack that answers so may be deeper */
  readonly upper_mm?: number
}

/** Between which notches of a kind, in the order of their depths, an amplitude lies. */
export function between(amplitude: number, kind: readonly NotchReading[]): Bounds {
  const above = kind.findIndex((notch) => notch.amplitude > amplitude)
  const below = above < 0 ? kind.at(-1)! : kind[above - 1]
  const next = above < 0 ? undefined : kind[above]!
  if (next === undefined) return { depth: `answers as or above notch ${below!.id}`, lower_mm: below!.depth_mm }
  if (below === undefined) return { depth: `answers below notch ${next.id}`, upper_mm: next.depth_mm }
  return {
    depth: `answers between notches ${below.id} and ${next.id}`,
    lower_mm: below.depth_mm,
    upper_mm: next.depth_mm
  }
}

/** Near a face a flaw of the bore and one of the corner can't be told apart: the wider of both statements holds. */
export function either(corner: Bounds, bore: Bounds): Bounds {
  const lower =
    corner.lower_mm === undefined || bore.lower_mm === undefined ? undefined : [corner.lower_mm, bore.lower_mm]
  const upper =
    corner.upper_mm === undefined || bore.upper_mm === undefined ? undefined : [corner.upper_mm, bore.upper_mm]
  return {
    depth: `${corner.depth}; were it mid-bore, ${bore.depth}`,
    ...(lower === undefined ? {} : { lower_mm: Math.min(...lower) }),
    ...(upper === undefined ? {} : { upper_mm: Math.max(...upper) })
  }
}
