import type { PlaceDetail, StoredExamination } from '../asking/client.ts'
import type { Writing } from '../units/figures.ts'
import { type DepthAxis, type Spot, wholeTurn } from '../wall/depth-axis.ts'

type Document = StoredExamination['document']
export type ClassName = PlaceDetail['indications'][number]['class']

/** What lies on the wall, in turns and on the depth axis, ready to be drawn. */
export interface Scene {
  readonly axis: DepthAxis
  readonly layers: readonly Layer[]
  /** zones of coverage, in the order of the depth */
  readonly zones: readonly Layer[]
  readonly gaps: readonly Gap[]
  readonly marks: readonly MarkOnWall[]
  /** "clock" where angles are clock positions on the part */
  readonly basis: string
  readonly writing: Writing
}

export interface Layer {
  readonly from: number
  readonly to: number
  readonly name: string
}

/** A stretch of depth that does not count as examined. */
export interface Gap {
  readonly from: number
  readonly to: number
  readonly word: string
}

export interface MarkOnWall {
  readonly id: string
  readonly class: ClassName
  readonly decided: boolean
  readonly crossedAlarm: boolean
  readonly turn: number
  readonly depth: number
  readonly from: number
  readonly to: number
  /** half the width of its loop, turns */
  readonly half: number
}

interface Facts {
  readonly place: PlaceDetail
  readonly document: Document
  readonly axis: DepthAxis
  readonly writing: Writing
}

export function sceneOf({ place, document, axis, writing }: Facts): Scene {
  const isPlaced = axis.unit === 'm'
  return {
    axis,
    writing,
    basis: document.position.angle,
    layers: isPlaced ? layersOf(place.listed) : [],
    zones: isPlaced ? zonesOf(document) : [],
    gaps: [...(isPlaced ? zoneGaps(document) : wholeGap(document, axis)), ...droppedGaps(document, axis)],
    marks: marksOf(place, document, axis)
  }
}

function layersOf({ grip_mm, interfaces_mm = [], layers = [] }: PlaceDetail['listed']): readonly Layer[] {
  if (grip_mm === undefined) return []
  const bounds = [0, ...interfaces_mm, grip_mm].map((z) => z * 1e-3)
  return bounds.slice(1).map((to, at) => ({ from: bounds[at]!, to, name: layers[at] ?? `layer ${at + 1}` }))
}

/** The layer is named beside the wall already. */
const zonesOf = ({ zones }: Document): readonly Layer[] =>
  zones.map(({ z0_m, z1_m, zone }) => ({ from: z0_m, to: z1_m, name: zone.replace(/^layer \d+ /, '') }))

const zoneGaps = ({ zones }: Document): readonly Gap[] =>
  zones
    .filter(({ state, covered }) => state === 'not examined' || covered < 1)
    .map(({ z0_m, z1_m, state, covered }) => ({
      from: z0_m,
      to: z1_m,
      word: state === 'not examined' ? 'not examined' : `covered ${Math.floor(100 * covered)} %`
    }))

/** Where no depth is known, all of it is one gap: nothing of it counts. */
const wholeGap = ({ zones }: Document, { from, to }: DepthAxis): readonly Gap[] =>
  zones.every(({ state }) => state === 'not examined') ? [{ from, to, word: 'not examined' }] : []

const droppedGaps = ({ dropped }: Document, axis: DepthAxis): readonly Gap[] =>
  dropped
    .filter(({ unit }) => unit === 'revolution')
    .map(({ from, to, reason }) => ({ from: axis.valueAt(from), to: axis.valueAt(to), word: reason }))

/** Indications as this scan saw them: by their strongest sighting where it is of this scan. */
function marksOf(place: PlaceDetail, document: Document, axis: DepthAxis): readonly MarkOnWall[] {
  return place.indications.flatMap((one) => {
    const seen = one.seen.find(({ recording }) => recording === document.recording)
    const own = document.indications.find(({ id }) => id === seen?.id)
    if (own === undefined) return seen === undefined ? [] : bareMark(one, seen, axis)
    const depth = typeof own.z_m === 'number' && axis.unit === 'm' ? own.z_m : axis.valueAt(own.ruler)
    const [from, to] = extentOf(own, axis, depth)
    const turn = typeof own.angle_rad === 'number' ? own.angle_rad / (2 * Math.PI) : wholeTurn(own.ruler)
    const { id, class: name, crossedAlarm } = one
    return [
      { id, class: name, crossedAlarm, decided: one.decided !== undefined, turn, depth, from, to, half: halfOf(own) }
    ]
  })
}

type Joined = PlaceDetail['indications'][number]

/** Where the document tells nothing of it, because this person states a class first: its place alone. */
function bareMark(one: Joined, seen: Joined['seen'][number], axis: DepthAxis): readonly MarkOnWall[] {
  const { angle_rad, z_m, z0_m = z_m, z1_m = z_m } = seen
  if (angle_rad === undefined || z_m === undefined || axis.unit !== 'm') return []
  const { id, class: name, crossedAlarm } = one
  const place = { turn: angle_rad / (2 * Math.PI), depth: z_m, from: z0_m ?? z_m, to: z1_m ?? z_m, half: 0.05 }
  return [{ id, class: name, crossedAlarm, decided: one.decided !== undefined, ...place }]
}

/** Half of what the stored loop covers; a loop stored by time or length has no angle. */
function halfOf({ snippet }: Document['indications'][number]): number {
  return snippet.stepUnit === 'rad' ? (0.62 * snippet.x.length * snippet.step) / (4 * Math.PI) : 0.035
}

function extentOf(own: Document['indications'][number], axis: DepthAxis, depth: number): readonly [number, number] {
  if (typeof own.z0_m === 'number' && typeof own.z1_m === 'number' && axis.unit === 'm') return [own.z0_m, own.z1_m]
  const half = own.revolutions / 2
  const ruler = axis.rulerAt(depth)
  return [axis.valueAt(ruler - half), axis.valueAt(ruler + half)]
}

export const spotOf = ({ turn, depth }: MarkOnWall): Spot => ({ turn, depth })
