import { type Places, sumsAgainst } from './behind.kernel.ts'
import { filledShare, isPoint } from './footprint.ts'
import { ANCHORS, type Lengths } from './lengths.ts'
import { leaveAt, PLACES, type Ready, readyFor, type Seeing } from './looking.ts'
import { lowestBeside } from './picks.ts'
import type { Rows } from './rows.ts'

/** What may lie behind the rows of a flaw: for a length the best place and size. */

export interface Behind {
  readonly length_mm: number
  readonly middle_mm: number
  /** share of the footprint that the length fills */
  readonly share: number
  /** complex size over the middle as it were far from every face, and the variances of its components */
  readonly x: number
  readonly y: number
  readonly xx: number
  readonly yy: number
  /** chi-square of the rows, over its degrees of freedom where that is above 1 */
  readonly misfit: number
}

export type { Edge, Layer, Seeing } from './looking.ts'

/** Fits of rows at some of the lengths: a point, and every so many of the others. */
export interface Anchored {
  readonly anchors: readonly Behind[]
  readonly lengths: Lengths
  readonly width_mm: number
}

/**
 * Least squares of the rows against a flaw of some lengths seen through the footprint. Noise that neighboring revolutions
 * share raises the variances by (1 + r)/(1 − r). The misfits are plain chi-squares. The best place moves steadily with the length.
 */
export function anchored(rows: Rows, seeing: Seeing, lengths: Lengths): Anchored {
  const ready = readyFor(rows, seeing)
  const { length_mm } = lengths
  const anchors = [bestOf(ready, length_mm[0]!, MIDDLE).fit]
  let looked = MIDDLE
  for (let j = 1; j < length_mm.length; j += ANCHORS) {
    const { place, fit } = bestOf(ready, length_mm[j]!, looked)
    anchors.push(fit)
    looked = { from: place, to: place }
  }
  return { anchors, lengths, width_mm: seeing.width_mm }
}

/** By how much the least misfit of fits to the same rows is more than its degrees of freedom; 1 where it is not. */
export const overOf = (all: readonly Anchored[], rows: number): number =>
  Math.max(1, Math.min(...all.map(leastMisfit)) / Math.max(1, 2 * rows - 4))

export const leastMisfit = ({ anchors }: Pick<Anchored, 'anchors'>): number =>
  anchors.reduce((least, { misfit }) => Math.min(least, misfit), Number.POSITIVE_INFINITY)

/** The best place of a flaw of one length in rows; the misfit is the plain chi-square. */
export const bestPlace = (rows: Rows, seeing: Seeing, length_mm: number): Behind =>
  bestOf(readyFor(rows, seeing), length_mm, MIDDLE).fit

interface Looked {
  readonly from: number
  readonly to: number
}

/** Where nothing is known of the place: downhill from the middle. */
const MIDDLE: Looked = { from: (PLACES - 1) / 2, to: (PLACES - 1) / 2 }

/** The best place among some and as far beyond as it gets better, and between it and its neighbors. */
function bestOf(ready: Ready, length_mm: number, looked: Looked): { readonly place: number; readonly fit: Behind } {
  const { columns, places, between, misfits, width_mm, deviation_mm, touching_mm, side } = ready
  const half = isPoint(length_mm, width_mm) ? 0 : (0.5 * length_mm) / deviation_mm
  const ahead = touching_mm > 0 ? (0.5 * side * length_mm) / deviation_mm : 0
  const flaw = { length_mm, half, ahead }
  const place = bestAmong(ready, flaw, looked)
  between.at[0] = lowestBeside(places.at, misfits, place)
  if (touching_mm > 0) leaveAt(ready, between.at, between.left)
  sumsAgainst(columns, between, { half, ahead, from: 0, to: 0 })
  const misfit = misfitAt(ready, between, { k: 0, half })
  if (misfit < misfits[place]!) return { place, fit: behindOf(ready, flaw, { from: between, k: 0, misfit }) }
  return { place, fit: behindOf(ready, flaw, { from: places, k: place, misfit: misfits[place]! }) }
}

/** A flaw of one length, in deviations from its place. */
interface Flaw {
  readonly length_mm: number
  readonly half: number
  readonly ahead: number
}

/** The neighbors of the place found have been looked at too. */
function bestAmong(ready: Ready, flaw: Flaw, looked: Looked): number {
  const { misfits } = ready
  let from = Math.max(0, looked.from - 1)
  let to = Math.min(PLACES - 1, looked.to + 1)
  lookAt(ready, flaw, { from, to })
  let best = from
  for (let k = from + 1; k <= to; k++) if (misfits[k]! < misfits[best]!) best = k
  for (; best === from && from > 0; from--) {
    lookAt(ready, flaw, { from: from - 1, to: from - 1 })
    if (misfits[from - 1]! < misfits[best]!) best = from - 1
  }
  for (; best === to && to < PLACES - 1; to++) {
    lookAt(ready, flaw, { from: to + 1, to: to + 1 })
    if (misfits[to + 1]! < misfits[best]!) best = to + 1
  }
  return best
}

function lookAt(ready: Ready, { half, ahead }: Flaw, { from, to }: Looked): void {
  const { columns, places, misfits } = ready
  sumsAgainst(columns, places, { half, ahead, from, to })
  for (let k = from; k <= to; k++) misfits[k] = misfitAt(ready, places, { k, half })
}

interface Placed {
  readonly k: number
  /** of the flaw's length, in deviations */
  readonly half: number
}

/** With how far a flaw lies from where its face was found, or beyond it. */
function misfitAt(ready: Ready, places: Places, { k, half }: Placed): number {
  const { x2, y2, xx, yy } = ready
  const tt = places.tt[k]!
  const tx = places.tx[k]!
  const ty = places.ty[k]!
  const away = awayFrom(ready, places.at[k]!, half)
  if (!(tt > 0)) return x2 / xx + y2 / yy + away
  return Math.max(0, x2 - (tx * tx) / tt) / xx + Math.max(0, y2 - (ty * ty) / tt) / yy + away
}

function awayFrom(ready: Ready, at: number, half: number): number {
  const { touching_mm, face_mm, deviation_mm, from_mm, to_mm, scatter_mm } = ready
  const off = touching_mm > 0 ? (at * deviation_mm - face_mm) / touching_mm : 0
  const before = Math.max(0, from_mm - (at - half) * deviation_mm) / scatter_mm
  const after = Math.max(0, (at + half) * deviation_mm - to_mm) / scatter_mm
  return off * off + before * before + after * after
}

interface FoundAt {
  readonly from: Places
  readonly k: number
  readonly misfit: number
}

/** Where nothing of the flaw would be seen, its size is not told at all. */
const LEAST_SEEN = 1e-9

function behindOf(ready: Ready, { length_mm, ahead }: Flaw, { from, k, misfit }: FoundAt): Behind {
  const share = filledShare(length_mm, ready.width_mm)
  const top = isPoint(length_mm, ready.width_mm) ? 1 : share
  const tt = Math.max(LEAST_SEEN, from.tt[k]!)
  return {
    length_mm,
    middle_mm: (from.at[k]! + ahead) * ready.deviation_mm,
    share,
    x: (top * from.tx[k]!) / tt,
    y: (top * from.ty[k]!) / tt,
    xx: (top * top * ready.xx) / tt,
    yy: (top * top * ready.yy) / tt,
    misfit
  }
}
