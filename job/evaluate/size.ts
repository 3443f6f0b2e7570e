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
 * Notch-equivalent statement of depth: between which notches of its kind the amplitude lies (in a corner zone, of either
 * kind: where a flaw ends isn't known to less than the footprint). No interpolation, no
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
  const own = kindOf(measured.place, notches)
  if (own.length === 0) {
    const none = `no ${measured.place} notch in the reference standard`
    return { depth: 'withheld', ...extent, withheld: [none] }
  }
  const as = between(measured.amplitude, own)
  const bore = measured.place === 'corner' ? kindOf('mid-bore', notches) : []
  const statement = bore.length === 0 ? as : either(as, between(measured.amplitude, bore))
  return { ...statement, ...extent, withheld: [] }
}

const kindOf = (place: Measured['place'], notches: readonly NotchReading[]): readonly NotchReading[] =>
  notches.filter((notch) => notch.place.includes(place) || place === 'track').sort((a, b) => a.depth_mm - b.depth_mm)

type Bounds = Pick<SizeStatement, 'depth' | 'lower_mm' | 'upper_mm'>

/** Near a face a flaw of the bore and one of the corner can't be told apart: the wider of both statements holds. */
function either(corner: Bounds, bore: Bounds): Bounds {
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

function between(amplitude: number, kind: readonly NotchReading[]): Bounds {
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
