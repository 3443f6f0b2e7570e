import { exp, log, PI } from '@trueloop/ground/numerics'
import { type Behind, behind, type Edge, evened, lengthsFor, type Seeing } from './behind.ts'
import { deviationOf } from './footprint.ts'
import type { KindName } from './kinds.ts'
import type { Faces } from './length.ts'
import type { Sizing } from './parameters.ts'
import { type RowNoise, type Rows, within } from './rows.ts'
import type { Footprint } from './width.ts'

/** What a flaw may be: of the bore, anywhere along the axis, or of a corner, touching the face that is near. */
export interface Hypothesis {
  readonly kind: KindName
  /** what may lie behind the rows, for each length, the same lengths for every kind */
  readonly fits: readonly Behind[]
  /** what the kind weighs beside others before its rows are looked at closely */
  readonly odds: number
  readonly footprint: Footprint
  readonly edge: Edge | undefined
}

export interface Looking {
  readonly rows: Rows
  readonly noise: RowNoise
  readonly footprints: ReadonlyMap<KindName, Footprint>
  readonly faces: Faces | undefined
  readonly numbers: Sizing
}

/** The rows as flaws of each kind, misfits made comparable. Where no face is known all kinds are seen alike. */
export function hypothesesFor(kinds: readonly KindName[], looking: Looking): readonly Hypothesis[] {
  const widest = Math.max(...kinds.map((kind) => looking.footprints.get(kind)!.width_mm))
  const lengths = lengthsFor(looking.rows, widest)
  const rows = within(looking.rows, widest)
  const fits = kinds.map((kind) => {
    const seeing = seeingOf(kind, looking)
    return { kind, fits: behind(rows, seeing, lengths), seeing }
  })
  return evened(fits, rows.z_mm.length).map(({ kind, fits: of, seeing }) => ({
    kind,
    fits: of,
    odds: oddsOf(of, seeing, looking),
    footprint: looking.footprints.get(kind)!,
    edge: seeing.edge
  }))
}

/** How a flaw of a kind is seen; one of the bore near a face loses to it as well. */
export function seeingOf(kind: KindName, { rows, noise, footprints, faces, numbers }: Looking): Seeing {
  const { width_mm, fade_mm } = footprints.get(kind)!
  const fade = fade_mm ?? footprints.get('corner')?.fade_mm
  const seeing = { noise, alike: numbers.alike, width_mm }
  if (faces === undefined || fade === undefined) return seeing
  const edge = { ...nearestFace(rows, faces), deviation_mm: fade }
  return { ...seeing, edge: kind === 'corner' ? { ...edge, touching_mm: numbers.faceScatter } : edge }
}

function nearestFace({ half }: Rows, { from_mm, to_mm }: Faces): Pick<Edge, 'face_mm' | 'side'> {
  const middle = 0.5 * (half.from + half.to)
  return middle - from_mm <= to_mm - middle ? { face_mm: from_mm, side: 1 } : { face_mm: to_mm, side: -1 }
}

/** A flaw whose −6 dB extent begins within a footprint of a face may touch it. */
export function maySeeFace({ half }: Rows, faces: Faces | undefined, footprint: Footprint | undefined): boolean {
  if (faces === undefined || footprint?.fade_mm === undefined) return false
  return Math.min(half.from - faces.from_mm, faces.to_mm - half.to) < footprint.width_mm
}

/**
 * Corner and bore are equally likely before, and a flaw of the bore lies anywhere in its layer alike: that it should lie just
 * where one of the corner would is as likely as its place is told closely. Places are normal about the best one.
 */
function oddsOf(fits: readonly Behind[], { edge, width_mm }: Seeing, { faces, numbers: { faceScatter } }: Looking): number {
  if (faces === undefined || edge === undefined || edge.touching_mm !== undefined) return 1
  const best = fits.reduce((one, other) => (other.misfit < one.misfit ? other : one))
  const place2 = (2 * deviationOf(width_mm) * deviationOf(width_mm)) / strengthOf(best)
  const layer_mm = Math.max(width_mm, faces.to_mm - faces.from_mm)
  return Math.min(1, Math.sqrt(2 * PI * (place2 + faceScatter * faceScatter)) / layer_mm)
}

/** Squared signal to noise of a fit. */
const strengthOf = ({ x, y, xx, yy }: Behind): number => Math.max(1, (x * x) / xx + (y * y) / yy)

/** The kinds together, length by length, with the footprint of the one that speaks loudest. */
export interface Joined {
  readonly fits: readonly Behind[]
  readonly footprint: Footprint
}

/** Each length by what all kinds say of it; its place by the kind that says most. */
export function joined(all: readonly Hypothesis[]): Joined {
  const [first] = all
  if (all.length === 1) return first!
  const loudest = all.reduce((best, one) => (leastOf(one) < leastOf(best) ? one : best))
  const least = leastOf(loudest)
  const fits = loudest.fits.map((fit, j) => {
    const likely = all.reduce((sum, { fits: of, odds }) => sum + odds * exp(-0.5 * (of[j]!.misfit - least)), 0)
    return { ...fit, misfit: likely > 0 ? least - 2 * log(likely) : fit.misfit }
  })
  return { fits, footprint: loudest.footprint }
}

const leastOf = ({ fits, odds }: Hypothesis): number =>
  fits.reduce((least, { misfit }) => Math.min(least, misfit), Number.POSITIVE_INFINITY) - 2 * log(odds)
