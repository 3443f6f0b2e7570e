import { log, PI } from '@trueloop/ground/numerics'
import { anchored, type Behind, type Edge, leastMisfit, overOf, type Seeing } from './behind.ts'
import { bestLength, type Fits, whole } from './fits.ts'
import { deviationOf } from './footprint.ts'
import type { KindName } from './kinds.ts'
import type { Faces } from './length.ts'
import { lengthsFor } from './lengths.ts'
import { likelihoodOf } from './likelihood.kernel.ts'
import type { Sizing } from './parameters.ts'
import { type RowNoise, type Rows, within } from './rows.ts'
import type { Footprint } from './width.ts'

/** What a flaw may be: of the bore, anywhere along the axis, or of a corner, touching the face that is near. */
export interface Hypothesis {
  readonly kind: KindName
  /** what may lie behind the rows, for each length, the same lengths for every kind */
  readonly fits: Fits
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
  const seen = kinds.flatMap((kind) => {
    const ways = seeingsOf(kind, looking)
    return ways.map((seeing) => ({ kind, seeing, count: ways.length }))
  })
  const fitted = seen.map(({ seeing }) => anchored(rows, seeing, lengths))
  const over = overOf(fitted, rows.z_mm.length)
  const all = seen.map(({ kind, seeing, count }, i) => {
    const odds = oddsOf(fitted[i]!.anchors, seeing, looking) / count
    const least = leastMisfit(fitted[i]!) / over - 2 * log(odds)
    return { kind, odds, least, footprint: looking.footprints.get(kind)!, edge: seeing.edge, fitted: fitted[i]! }
  })
  const least = Math.min(...all.map((one) => one.least))
  return all
    .filter((one) => one.least <= least + NOWHERE)
    .map(({ fitted: of, least: _, ...one }) => ({ ...one, fits: whole(of, over) }))
}

/** Chi-square over the least beyond which a hypothesis adds nothing that is printed: 3e-4 of its likelihood. */
const NOWHERE = 16

/**
 * How a flaw of a kind is seen. One of a corner fades toward the face that it touches as corner notches do. Whether a face
 * that a flaw does not touch takes from it depends on what lies beyond (air, or a next layer), and no notch shows it: with and
 * without are looked at. In a layer hardly wider than what the probe sees a flaw may touch either face.
 */
function seeingsOf(kind: KindName, { rows, noise, footprints, faces, numbers }: Looking): readonly Seeing[] {
  const { width_mm } = footprints.get(kind)!
  const corner = footprints.get('corner')
  const layer = faces === undefined ? {} : { layer: { ...faces, scatter_mm: numbers.faceScatter } }
  const seeing = { noise, alike: numbers.alike, width_mm, ...layer }
  if (faces === undefined || corner?.atFace === undefined) return [seeing]
  const fade = corner.fade_mm
  const [near, far] = facesBy(rows, faces)
  const isNear = distanceTo(near, rows) < width_mm
  const isThin = distanceTo(far, rows) < width_mm
  const at = (face: Face, other?: Face): Seeing => ({
    ...seeing,
    edge: {
      ...face,
      ...(fade === undefined ? {} : { deviation_mm: fade }),
      ...(kind === 'corner' ? { touching_mm: numbers.faceScatter } : {}),
      ...(other === undefined ? {} : { other })
    }
  })
  if (fade === undefined) return kind !== 'corner' ? [seeing] : isThin ? [at(near), at(far)] : [at(near)]
  if (kind !== 'corner') return [seeing, ...(isNear ? [at(near)] : []), ...(isThin ? [at(near, far)] : [])]
  return isThin ? [at(near), at(near, far), at(far), at(far, near)] : [at(near)]
}

type Face = Pick<Edge, 'face_mm' | 'side'>

/** Both faces of a layer, the nearer first. */
function facesBy(rows: Rows, { from_mm, to_mm }: Faces): readonly [Face, Face] {
  const [entry, exit]: readonly [Face, Face] = [
    { face_mm: from_mm, side: 1 },
    { face_mm: to_mm, side: -1 }
  ]
  return distanceTo(entry, rows) <= distanceTo(exit, rows) ? [entry, exit] : [exit, entry]
}

/** From a face to where the −6 dB extent begins. */
const distanceTo = ({ face_mm, side }: Face, { half }: Rows): number =>
  side > 0 ? half.from - face_mm : face_mm - half.to

/** A flaw whose −6 dB extent begins within a footprint of a face may touch it. */
export function maySeeFace(rows: Rows, faces: Faces | undefined, footprint: Footprint | undefined): boolean {
  if (faces === undefined || footprint?.atFace === undefined) return false
  return distanceTo(facesBy(rows, faces)[0], rows) < footprint.width_mm
}

/**
 * Corner and bore are equally likely before, and a flaw of the bore lies anywhere in its layer alike: that it should lie just
 * where one of the corner would is as likely as its place is told closely. Places are normal about the best one.
 */
function oddsOf(
  fits: readonly Behind[],
  { edge, width_mm }: Seeing,
  { faces, numbers: { faceScatter } }: Looking
): number {
  if (faces === undefined || edge?.touching_mm !== undefined) return 1
  const best = fits.reduce((one, other) => (other.misfit < one.misfit ? other : one))
  const place2 = (2 * deviationOf(width_mm) * deviationOf(width_mm)) / strengthOf(best)
  const layer_mm = Math.max(width_mm, faces.to_mm - faces.from_mm)
  return Math.min(1, Math.sqrt(2 * PI * (place2 + faceScatter * faceScatter)) / layer_mm)
}

/** Squared signal to noise of a fit. */
const strengthOf = ({ x, y, xx, yy }: Behind): number => Math.max(1, (x * x) / xx + (y * y) / yy)

/** The kinds together, length by length, with the footprint of the one that speaks loudest. */
export interface Joined {
  readonly fits: Fits
  readonly footprint: Footprint
}

/** Each length by what all kinds say of it; its place by the kind that says most. */
export function joined(all: readonly Hypothesis[]): Joined {
  const [first] = all
  if (all.length === 1) return first!
  const loudest = all.reduce((best, one) => (leastOf(one) < leastOf(best) ? one : best))
  return { fits: { ...loudest.fits, misfit: togetherOf(all, loudest) }, footprint: loudest.footprint }
}

/** Chi-square of each length by the likelihoods of all kinds. */
function togetherOf(all: readonly Hypothesis[], loudest: Hypothesis): Float64Array {
  const least = leastOf(loudest)
  const likely = new Float64Array(loudest.fits.misfit.length)
  for (const { fits, odds } of all)
    for (let j = 0; j < likely.length; j++) likely[j]! += odds * likelihoodOf(fits.misfit[j]! - least)
  for (let j = 0; j < likely.length; j++)
    likely[j] = likely[j]! > 0 ? least - 2 * log(likely[j]!) : loudest.fits.misfit[j]!
  return likely
}

const leastOf = ({ fits, odds }: Hypothesis): number => fits.misfit[bestLength(fits)]! - 2 * log(odds)
