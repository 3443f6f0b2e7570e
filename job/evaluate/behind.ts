import { type Places, type RowColumns, sumsAgainst } from './behind.kernel.ts'
import { deviationOf, filledShare, isPoint } from './footprint.ts'
import { lowestBeside } from './picks.ts'
import { type RowNoise, type Rows, within } from './rows.ts'

/** What may lie behind the rows of a flaw: for each length the best place and size. */

export interface Behind {
  readonly length_mm: number
  readonly middle_mm: number
  /** share of the footprint that the length fills */
  readonly share: number
  /** complex size over the middle, and the variances of its components */
  readonly x: number
  readonly y: number
  readonly xx: number
  readonly yy: number
  /** chi-square of the rows, over its degrees of freedom where that is above 1 */
  readonly misfit: number
}

export interface Seeing {
  readonly noise: RowNoise
  readonly width_mm: number
  /** correlation of the noise of neighboring revolutions */
  readonly alike: number
}

/** A place is sought this far beside the middle of the −6 dB extent, in widths of the footprint, at so many. */
const BESIDE = 0.5
const PLACES = 7

/** At every so many lengths all places are looked at, between them those from best to best and one beside. */
const ANCHORS = 8

/**
 * Least squares of the rows against a flaw of each length seen through the footprint. Noise that neighboring revolutions
 * share raises the variances by (1 + r)/(1 − r).
 */
export function behind(rows: Rows, seeing: Seeing, lengths_mm: readonly number[]): readonly Behind[] {
  const ready = readyFor(within(rows, seeing.width_mm), seeing)
  const fits = fitsOf(ready, lengths_mm)
  const least = fits.reduce((best, { misfit }) => Math.min(best, misfit), Number.POSITIVE_INFINITY)
  const over = Math.max(1, least / Math.max(1, 2 * ready.columns.u.length - 4))
  return over === 1 ? fits : fits.map((one) => ({ ...one, misfit: one.misfit / over }))
}

/** The best place moves steadily with the length. */
function fitsOf(ready: Ready, lengths_mm: readonly number[]): readonly Behind[] {
  const fits: Behind[] = []
  let known = bestOf(ready, lengths_mm[0]!, ALL)
  for (let a = 0; a < lengths_mm.length; a += ANCHORS) {
    const b = Math.min(a + ANCHORS, lengths_mm.length - 1)
    const next = bestOf(ready, lengths_mm[b]!, ALL)
    const between = { from: Math.min(known.place, next.place), to: Math.max(known.place, next.place) }
    fits.push(known.fit)
    for (let j = a + 1; j < b; j++) fits.push(bestOf(ready, lengths_mm[j]!, between).fit)
    if (b < a + ANCHORS && b > a) fits.push(next.fit)
    known = next
  }
  return fits
}

/** The best place of a flaw of one length in rows; the misfit is the plain chi-square. */
export const bestPlace = (rows: Rows, seeing: Seeing, length_mm: number): Behind =>
  bestOf(readyFor(rows, seeing), length_mm, ALL).fit

/** Rows and places in deviations of the footprint, with what no length changes. */
interface Ready {
  readonly columns: RowColumns
  readonly width_mm: number
  readonly deviation_mm: number
  readonly places: Places
  readonly between: Places
  readonly misfits: Float64Array
  /** sums of squares of the components, and their variances in one revolution */
  readonly x2: number
  readonly y2: number
  readonly xx: number
  readonly yy: number
}

function readyFor({ z_mm, x, y, half }: Rows, { width_mm, noise, alike }: Seeing): Ready {
  const raised = (1 + alike) / (1 - alike)
  const deviation_mm = deviationOf(width_mm)
  const middle = 0.5 * (half.from + half.to)
  const places = placesFor(PLACES)
  for (let k = 0; k < PLACES; k++) {
    places.at[k] = (middle + BESIDE * width_mm * ((2 * k) / (PLACES - 1) - 1)) / deviation_mm
  }
  return {
    columns: { u: columnOf(z_mm, 1 / deviation_mm), x: columnOf(x, 1), y: columnOf(y, 1) },
    ...{ width_mm, deviation_mm, places, between: placesFor(1), misfits: new Float64Array(PLACES) },
    ...{ x2: squares(x), y2: squares(y), xx: noise.xx * raised, yy: noise.yy * raised }
  }
}

const placesFor = (count: number): Places => ({
  at: new Float64Array(count),
  tt: new Float64Array(count),
  tx: new Float64Array(count),
  ty: new Float64Array(count)
})

function columnOf(values: readonly number[], unit: number): Float64Array {
  const column = new Float64Array(values.length)
  for (let i = 0; i < values.length; i++) column[i] = values[i]! * unit
  return column
}

const squares = (values: readonly number[]): number => values.reduce((sum, value) => sum + value * value, 0)

interface Looked {
  readonly from: number
  readonly to: number
}

const ALL: Looked = { from: 0, to: PLACES - 1 }

/** The best place among some and as far beyond as it gets better, and between it and its neighbors. */
function bestOf(ready: Ready, length_mm: number, looked: Looked): { readonly place: number; readonly fit: Behind } {
  const { columns, places, between, misfits, width_mm, deviation_mm } = ready
  const half = isPoint(length_mm, width_mm) ? 0 : (0.5 * length_mm) / deviation_mm
  const place = bestAmong(ready, half, looked)
  between.at[0] = lowestBeside(places.at, misfits, place)
  sumsAgainst(columns, between, { half, from: 0, to: 0 })
  const isBetween = misfitAt(ready, between, 0) < misfits[place]!
  return { place, fit: behindOf(ready, length_mm, isBetween ? { from: between, k: 0 } : { from: places, k: place }) }
}

/** The neighbors of the place found have been looked at too. */
function bestAmong(ready: Ready, half: number, looked: Looked): number {
  const { misfits } = ready
  const look = (from: number, to: number) => {
    sumsAgainst(ready.columns, ready.places, { half, from, to })
    for (let k = from; k <= to; k++) misfits[k] = misfitAt(ready, ready.places, k)
  }
  let { from, to } = { from: Math.max(0, looked.from - 1), to: Math.min(PLACES - 1, looked.to + 1) }
  look(from, to)
  let best = from
  for (let k = from + 1; k <= to; k++) if (misfits[k]! < misfits[best]!) best = k
  for (; best === from && from > 0; from--) {
    look(from - 1, from - 1)
    if (misfits[from - 1]! < misfits[best]!) best = from - 1
  }
  for (; best === to && to < PLACES - 1; to++) {
    look(to + 1, to + 1)
    if (misfits[to + 1]! < misfits[best]!) best = to + 1
  }
  return best
}

function misfitAt({ x2, y2, xx, yy }: Ready, { tt, tx, ty }: Places, k: number): number {
  return Math.max(0, x2 - (tx[k]! * tx[k]!) / tt[k]!) / xx + Math.max(0, y2 - (ty[k]! * ty[k]!) / tt[k]!) / yy
}

function behindOf(ready: Ready, length_mm: number, { from, k }: { readonly from: Places; readonly k: number }): Behind {
  const share = filledShare(length_mm, ready.width_mm)
  const top = isPoint(length_mm, ready.width_mm) ? 1 : share
  const tt = from.tt[k]!
  return {
    length_mm,
    middle_mm: from.at[k]! * ready.deviation_mm,
    share,
    x: (top * from.tx[k]!) / tt,
    y: (top * from.ty[k]!) / tt,
    xx: (top * top * ready.xx) / tt,
    yy: (top * top * ready.yy) / tt,
    misfit: misfitAt(ready, from, k)
  }
}

const LENGTHS = 48

/** Lengths worth looking at: from a point to the −6 dB extent and a footprint more. */
export function lengthsFor({ half }: Rows, width_mm: number): readonly number[] {
  const most = half.to - half.from + width_mm
  return Array.from({ length: LENGTHS }, (_, i) => (most * i) / (LENGTHS - 1))
}
