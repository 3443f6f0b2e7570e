import { type Places, type RowColumns, sumsAgainst } from './behind.kernel.ts'
import { bellCumulative } from './bell.kernel.ts'
import { deviationOf, filledShare, isPoint } from './footprint.ts'
import { ANCHORS, type Lengths } from './lengths.ts'
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

/** Rows and places in deviations of the footprint, with what no length changes. */
interface Ready {
  readonly columns: RowColumns
  readonly width_mm: number
  readonly deviation_mm: number
  readonly edge: Edge | undefined
  /** standard uncertainty of the face that the flaw touches, and that face; 0: it may lie anywhere */
  readonly touching_mm: number
  readonly face_mm: number
  readonly side: number
  /** where it may lie, and how surely */
  readonly from_mm: number
  readonly to_mm: number
  readonly scatter_mm: number
  readonly places: Places
  readonly between: Places
  readonly misfits: Float64Array
  /** sums of squares of the components, and their variances in one revolution */
  readonly x2: number
  readonly y2: number
  readonly xx: number
  readonly yy: number
}

function readyFor(rows: Rows, { width_mm, noise, alike, edge, layer }: Seeing): Ready {
  const raised = (1 + alike) / (1 - alike)
  const deviation_mm = deviationOf(width_mm)
  const touching_mm = edge?.touching_mm ?? 0
  const within = touching_mm > 0 ? undefined : layer
  const room = roomFor(rows)
  const columns = columnsIn(room, rows, deviation_mm)
  const middle = touching_mm > 0 ? edge!.face_mm : 0.5 * (rows.half.from + rows.half.to)
  const reach = touching_mm > 0 ? BESIDE_FACE * touching_mm : BESIDE * width_mm
  const { at } = room.places
  for (let k = 0; k < PLACES; k++) at[k] = (middle + reach * ((2 * k) / (PLACES - 1) - 1)) / deviation_mm
  const stride = touching_mm > 0 ? rows.z_mm.length : 0
  const { places, between, misfits, x2, y2 } = room
  const ready: Ready = {
    columns,
    width_mm,
    deviation_mm,
    edge,
    touching_mm,
    face_mm: edge?.face_mm ?? 0,
    side: edge?.side ?? 1,
    from_mm: within?.from_mm ?? Number.NEGATIVE_INFINITY,
    to_mm: within?.to_mm ?? Number.POSITIVE_INFINITY,
    scatter_mm: within?.scatter_mm ?? 1,
    places: withLeft(places, places.left, stride),
    between: withLeft(between, stride > 0 ? between.left : places.left, 0),
    misfits,
    x2,
    y2,
    xx: noise.xx * raised,
    yy: noise.yy * raised
  }
  leaveAt(ready, stride > 0 ? at : undefined, room.places.left)
  return ready
}

const withLeft = ({ at, tt, tx, ty }: Places, left: Float64Array, stride: number): Places => ({
  at,
  tt,
  tx,
  ty,
  left,
  stride
})

/** Rows and places are looked at for one flaw after the other: the same columns serve all. */
interface Room {
  readonly most: number
  readonly columns: Omit<RowColumns, 'count'>
  readonly places: Places
  readonly between: Places
  readonly misfits: Float64Array
  /** the rows at hand and their sums of squares */
  rows: Rows | undefined
  x2: number
  y2: number
}

const newRoom = (most: number): Room => ({
  ...{ most, rows: undefined, x2: 0, y2: 0 },
  columns: {
    u: new Float64Array(most),
    x: new Float64Array(most),
    y: new Float64Array(most),
    shape: new Float64Array(most)
  },
  places: placesFor(PLACES, most),
  between: placesFor(1, most),
  misfits: new Float64Array(PLACES)
})

function placesFor(count: number, most: number): Places {
  const column = () => new Float64Array(count)
  return { at: column(), tt: column(), tx: column(), ty: column(), left: new Float64Array(count * most), stride: 0 }
}

let theRoom = newRoom(64)

/** The room with the sizes of the rows in it: rows are looked at as flaws of several kinds. */
function roomFor(rows: Rows): Room {
  const { x, y } = rows
  if (x.length > theRoom.most) theRoom = newRoom(2 * x.length)
  const room = theRoom
  if (room.rows === rows) return room
  let x2 = 0
  let y2 = 0
  for (let i = 0; i < x.length; i++) {
    const [one, other] = [x[i]!, y[i]!]
    room.columns.x[i] = one
    room.columns.y[i] = other
    x2 += one * one
    y2 += other * other
  }
  room.rows = rows
  room.x2 = x2
  room.y2 = y2
  return room
}

function columnsIn({ columns: { u, x, y, shape } }: Room, { z_mm }: Rows, deviation_mm: number): RowColumns {
  const unit = 1 / deviation_mm
  for (let i = 0; i < z_mm.length; i++) u[i] = z_mm[i]! * unit
  return { count: z_mm.length, u, x, y, shape }
}

/** What the faces leave of the answer at each revolution: the near one where it is taken to be, or at each of some places. */
function leaveAt(
  { columns: { u, count }, edge, deviation_mm }: Ready,
  at: Float64Array | undefined,
  left: Float64Array
) {
  const faces = at?.length ?? 1
  if (edge?.deviation_mm === undefined) return left.fill(1, 0, faces * count)
  const per = deviation_mm / edge.deviation_mm
  const { side, face_mm, other } = edge
  for (let i = 0; i < count; i++) {
    const rest = other === undefined ? 1 : bellCumulative(per * other.side * (u[i]! - other.face_mm / deviation_mm))
    for (let k = 0; k < faces; k++)
      left[k * count + i] = rest * bellCumulative(per * side * (u[i]! - (at?.[k] ?? face_mm / deviation_mm)))
  }
  return left
}

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
