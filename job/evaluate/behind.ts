import { type Places, type RowColumns, sumsAgainst } from './behind.kernel.ts'
import { bellCumulative } from './bell.kernel.ts'
import type { Lengths } from './fits.ts'
import { deviationOf, filledShare, isPoint } from './footprint.ts'
import { lowestBeside } from './picks.ts'
import type { RowNoise, Rows } from './rows.ts'

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

export interface Seeing {
  readonly noise: RowNoise
  readonly width_mm: number
  /** correlation of the noise of neighboring revolutions */
  readonly alike: number
  /** the face that is near */
  readonly edge?: Edge
  /** the layer that a flaw lies in: it does not end beyond it by more than the face is known to */
  readonly layer?: Layer
}

export interface Layer {
  readonly from_mm: number
  readonly to_mm: number
  readonly scatter_mm: number
}

/** A face near a flaw. */
export interface Edge {
  readonly face_mm: number
  /** 1 where the metal lies at greater depths */
  readonly side: 1 | -1
  /** toward it the answer fades, as the normal distribution of this deviation; undefined: it does not */
  readonly deviation_mm?: number
  /** standard uncertainty of where a flaw that touches the face lies; undefined: the flaw may lie anywhere */
  readonly touching_mm?: number
  /** the other face of the layer, where the answer fades toward that as well */
  readonly other?: { readonly face_mm: number; readonly side: 1 | -1 }
}

/** A place is sought this far beside the middle of the −6 dB extent, in widths of the footprint, at so many. */
const BESIDE = 0.5
const PLACES = 7
/** A flaw at a face is sought this far beside it, in standard uncertainties of the face. */
const BESIDE_FACE = 2.4

/** Rows are fitted at every so many lengths; between them all that a fit says is a cubic of its neighbors. */
export const ANCHORS = 5

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
  const anchors = [bestOf(ready, length_mm[0]!, ALL).fit]
  let looked = ALL
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
  bestOf(readyFor(rows, seeing), length_mm, ALL).fit

/** Rows and places in deviations of the footprint, with what no length changes. */
interface Ready {
  readonly columns: RowColumns
  readonly width_mm: number
  readonly deviation_mm: number
  readonly edge: Edge | undefined
  readonly layer: Layer | undefined
  readonly places: Places
  readonly left: Float64Array
  readonly between: Places
  readonly leftBetween: Float64Array
  readonly misfits: Float64Array
  /** sums of squares of the components, and their variances in one revolution */
  readonly x2: number
  readonly y2: number
  readonly xx: number
  readonly yy: number
}

function readyFor({ z_mm, x, y, half }: Rows, { width_mm, noise, alike, edge, layer }: Seeing): Ready {
  const raised = (1 + alike) / (1 - alike)
  const deviation_mm = deviationOf(width_mm)
  const columns = { u: columnOf(z_mm, 1 / deviation_mm), x: columnOf(x, 1), y: columnOf(y, 1) }
  const touches = edge?.touching_mm !== undefined
  const middle = touches ? edge.face_mm : 0.5 * (half.from + half.to)
  const reach = touches ? BESIDE_FACE * edge.touching_mm! : BESIDE * width_mm
  const { places, between, misfits } = scratch
  for (let k = 0; k < PLACES; k++) places.at[k] = (middle + reach * ((2 * k) / (PLACES - 1) - 1)) / deviation_mm
  const ready = { columns, width_mm, deviation_mm, edge, layer, places, between }
  return {
    ...ready,
    left: leftAt(ready, { at: touches ? places.at : undefined }),
    leftBetween: new Float64Array(z_mm.length),
    misfits,
    ...{ x2: squares(x), y2: squares(y), xx: noise.xx * raised, yy: noise.yy * raised }
  }
}

function placesFor(count: number): Places {
  const column = () => new Float64Array(count)
  return { at: column(), tt: column(), tx: column(), ty: column() }
}

/** Places are looked at for one flaw after the other: the same columns serve all. */
const scratch = { places: placesFor(PLACES), between: placesFor(1), misfits: new Float64Array(PLACES) }

function columnOf(values: readonly number[], unit: number): Float64Array {
  const column = new Float64Array(values.length)
  for (let i = 0; i < values.length; i++) column[i] = values[i]! * unit
  return column
}

const squares = (values: readonly number[]): number => values.reduce((sum, value) => sum + value * value, 0)

/** What the faces leave of the answer at each revolution: the near one where it is taken to be, or at each of some places. */
function leftAt(
  { columns: { u }, edge, deviation_mm }: Pick<Ready, 'columns' | 'edge' | 'deviation_mm'>,
  { at, into }: { readonly at: Float64Array | undefined; readonly into?: Float64Array }
): Float64Array {
  const count = at?.length ?? 1
  if (edge?.deviation_mm === undefined) return (into ?? new Float64Array(count * u.length)).fill(1)
  const faces = at ?? Float64Array.of(edge.face_mm / deviation_mm)
  const per = deviation_mm / edge.deviation_mm
  const left = into ?? new Float64Array(count * u.length)
  const { other } = edge
  for (let i = 0; i < u.length; i++) {
    const rest = other === undefined ? 1 : bellCumulative(per * other.side * (u[i]! - other.face_mm / deviation_mm))
    for (let k = 0; k < faces.length; k++)
      left[k * u.length + i] = rest * bellCumulative(per * edge.side * (u[i]! - faces[k]!))
  }
  return left
}

interface Looked {
  readonly from: number
  readonly to: number
}

const ALL: Looked = { from: 0, to: PLACES - 1 }

/** The best place among some and as far beyond as it gets better, and between it and its neighbors. */
function bestOf(ready: Ready, length_mm: number, looked: Looked): { readonly place: number; readonly fit: Behind } {
  const { columns, places, between, misfits, width_mm, deviation_mm, edge } = ready
  const half = isPoint(length_mm, width_mm) ? 0 : (0.5 * length_mm) / deviation_mm
  const touches = edge?.touching_mm !== undefined
  const ahead = touches ? (0.5 * edge.side * length_mm) / deviation_mm : 0
  const place = bestAmong(ready, { half, ahead }, looked)
  between.at[0] = lowestBeside(places.at, misfits, place)
  const left = touches ? leftAt(ready, { at: between.at, into: ready.leftBetween }) : ready.left
  sumsAgainst(columns, between, { half, ahead, from: 0, to: 0, left })
  const isBetween = misfitAt(ready, between, { k: 0, half }) < misfits[place]!
  const from = isBetween ? { from: between, k: 0, half, ahead } : { from: places, k: place, half, ahead }
  return { place, fit: behindOf(ready, length_mm, from) }
}

/** The neighbors of the place found have been looked at too. */
function bestAmong(ready: Ready, flaw: { readonly half: number; readonly ahead: number }, looked: Looked): number {
  const { misfits, left } = ready
  const look = (from: number, to: number) => {
    sumsAgainst(ready.columns, ready.places, { ...flaw, from, to, left })
    for (let k = from; k <= to; k++) misfits[k] = misfitAt(ready, ready.places, { k, half: flaw.half })
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

interface Placed {
  readonly k: number
  /** of the flaw's length, in deviations */
  readonly half: number
}

/** With how far a flaw lies from where its face was found, or beyond it. */
function misfitAt(ready: Ready, places: Places, { k, half }: Placed): number {
  const { x2, y2, xx, yy } = ready
  const [tt, tx, ty] = [places.tt[k]!, places.tx[k]!, places.ty[k]!]
  const away = awayFrom(ready, places.at[k]!) + beyond(ready, places.at[k]!, half)
  if (!(tt > 0)) return x2 / xx + y2 / yy + away
  return Math.max(0, x2 - (tx * tx) / tt) / xx + Math.max(0, y2 - (ty * ty) / tt) / yy + away
}

function awayFrom({ edge, deviation_mm }: Ready, at: number): number {
  if (edge?.touching_mm === undefined) return 0
  const off = (at * deviation_mm - edge.face_mm) / edge.touching_mm
  return off * off
}

function beyond({ edge, layer, deviation_mm }: Ready, at: number, half: number): number {
  if (layer === undefined || edge?.touching_mm !== undefined) return 0
  const before = Math.max(0, layer.from_mm - (at - half) * deviation_mm) / layer.scatter_mm
  const after = Math.max(0, (at + half) * deviation_mm - layer.to_mm) / layer.scatter_mm
  return before * before + after * after
}

interface FoundAt {
  readonly from: Places
  readonly k: number
  readonly half: number
  readonly ahead: number
}

/** Where nothing of the flaw would be seen, its size is not told at all. */
const LEAST_SEEN = 1e-9

function behindOf(ready: Ready, length_mm: number, { from, k, half, ahead }: FoundAt): Behind {
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
    misfit: misfitAt(ready, from, { k, half })
  }
}
