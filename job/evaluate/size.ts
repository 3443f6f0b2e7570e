import type { NotchReading } from '../standardize/index.ts'

/** What may be said of a size from notches alone. Lengths in mm, because it is a sentence for a person. */
export interface SizeStatement {
  readonly depth: string
  /** notch-equivalent: a crack that answers so is at least this deep, as far as cracks answer weaker than notches */
  readonly lower_mm?: number
  /** notch-equivalent only: a crack that answers so may be deeper */
  readonly upper_mm?: number
  readonly extent: string
  readonly extent_mm?: number
  readonly withheld: readonly string[]
}

export interface Measured {
  readonly amplitude: number
  readonly place: 'corner' | 'mid-bore' | 'track'
  /** −6 dB extent along the axis as measured, m; not known where the axis is not */
  readonly extent_m?: number
}

/**
 * Notch-equivalent statement of depth: between which notches of its kind the amplitude lies. No interpolation, no
 * extrapolation, no figure for a crack: the response of a crack to that of a notch is not known here.
 *
 * @param notches readings of the reference standard
 * @param withheld reasons for which no size may be stated (set-up unknown, nothing standardized)
 */
export function sizeOf(
  measured: Measured,
  notches: readonly NotchReading[],
  withheld: readonly string[]
): SizeStatement {
  const extent = extentOf(measured, withheld)
  if (withheld.length > 0) return { depth: 'withheld', ...extent, withheld }
  const kind = notches
    .filter((notch) => notch.place.includes(measured.place) || measured.place === 'track')
    .sort((a, b) => a.depth_mm - b.depth_mm)
  if (kind.length === 0) {
    const none = `no ${measured.place} notch in the reference standard`
    return { depth: 'withheld', ...extent, withheld: [none] }
  }
  return { ...between(measured.amplitude, kind), ...extent, withheld: [] }
}

function between(amplitude: number, kind: readonly NotchReading[]) {
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

function extentOf({ extent_m }: Measured, withheld: readonly string[]) {
  if (withheld.length > 0) return { extent: 'withheld' }
  if (extent_m === undefined) return { extent: 'not known: no scale along the axis' }
  const extent_mm = Math.round(extent_m * 1e5) / 100
  return { extent: `${extent_mm.toFixed(2)} mm between the −6 dB points, footprint included`, extent_mm }
}
