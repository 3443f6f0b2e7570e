import type { Places, RowColumns } from './behind.kernel.ts'
import { bellCumulative } from './bell.kernel.ts'
import { deviationOf } from './footprint.ts'
import type { RowNoise, Rows } from './rows.ts'

/** How the rows of a flaw are looked at: by which footprint, near which face, at which places. */

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
export const PLACES = 7
/** A flaw at a face is sought this far beside it, in standard uncertainties of the face. */
const BESIDE_FACE = 2.4

/** Rows and places in deviations of the footprint, with what no length changes. */
export interface Ready {
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

/** Rows and places made ready for one way of looking at them. */
export function readyFor(rows: Rows, { width_mm, noise, alike, edge, layer }: Seeing): Ready {
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
export function leaveAt(
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
