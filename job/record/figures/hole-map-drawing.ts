import { axes, type Box, type Mark, place as on, type Point, type Scale, svg, ticks } from '@trueloop/ground/picture'
import type { PlaceState } from '../state.ts'
import { describe, hole, mapWidth } from './hole-mark.ts'
import { symbolSide } from './symbols.ts'

export interface Placed extends PlaceState {
  readonly place: PlaceState['place'] & { readonly at: { readonly x_mm: number; readonly y_mm: number } }
}

export const isPlaced = (one: PlaceState): one is Placed => one.place.at !== undefined

/** Holes that can be read in one drawing. */
const mostInTile = 150

/**
 * Halved along the longer side until each part can be read; each part keeps the order of the list. Holes that would
 * lie over one another in their drawing are left over: a mark may hide no other.
 */
export function tilesOf(places: readonly Placed[]): {
  readonly tiles: readonly (readonly Placed[])[]
  readonly left: readonly Placed[]
} {
  const all = halved(places).map(apart)
  return { tiles: all.map(({ drawn }) => drawn), left: all.flatMap(({ left }) => left) }
}

function halved(places: readonly Placed[]): readonly (readonly Placed[])[] {
  if (places.length <= mostInTile) return places.length === 0 ? [] : [places]
  const { x, y } = spanOf(places)
  const key = x.to - x.from >= y.to - y.from ? 'x_mm' : 'y_mm'
  const sorted = places.map(({ place }) => place.at[key]).sort((one, other) => one - other)
  const middle = sorted[Math.floor(sorted.length / 2)] ?? 0
  const low = places.filter(({ place }) => place.at[key] < middle)
  if (low.length === 0) return [places]
  return [...halved(low), ...halved(places.filter(({ place }) => place.at[key] >= middle))]
}

/** Smallest mark, and so the smallest distance of two, px. */
const smallest = 7

function apart(places: readonly Placed[]): { readonly drawn: readonly Placed[]; readonly left: readonly Placed[] } {
  const { x, y } = frameOf(places)
  const drawn: Placed[] = []
  const left: Placed[] = []
  for (const one of places) {
    const center = centerOf(one, x, y)
    const isOver = drawn.some((other) => distance(center, centerOf(other, x, y)) < smallest)
    ;(isOver ? left : drawn).push(one)
  }
  return { drawn, left }
}

interface Span {
  readonly x: { readonly from: number; readonly to: number }
  readonly y: { readonly from: number; readonly to: number }
}

function spanOf(places: readonly Placed[]): Span {
  const of = (key: 'x_mm' | 'y_mm') => {
    const all = places.map(({ place }) => place.at[key])
    return { from: all.reduce((a, b) => Math.min(a, b)), to: all.reduce((a, b) => Math.max(a, b)) }
  }
  return { x: of('x_mm'), y: of('y_mm') }
}

const box = { x: 60, y: 16, width: 716, mostHeight: 800 }

interface Frame {
  readonly area: Box
  readonly x: Scale
  readonly y: Scale
}

/** Both axes in one scale, as on the component's drawing; y upward. */
function frameOf(places: readonly Placed[]): Frame {
  const span = spanOf(places)
  const edge = Math.max(10, 0.06 * Math.max(span.x.to - span.x.from, span.y.to - span.y.from))
  const [wide, high] = [span.x.to - span.x.from + 2 * edge, span.y.to - span.y.from + 2 * edge]
  const perMm = Math.min(box.width / wide, box.mostHeight / high)
  const area: Box = { x: box.x, y: box.y, width: wide * perMm, height: Math.max(60, high * perMm) }
  const more = (area.height / perMm - high) / 2
  return {
    area,
    x: { from: span.x.from - edge, to: span.x.to + edge, start: area.x, end: area.x + area.width },
    y: {
      ...{ from: span.y.from - edge - more, to: span.y.to + edge + more },
      ...{ start: area.y + area.height, end: area.y }
    }
  }
}

/** Holes at their places on the drawing of the component. */
export function drawingOf(places: readonly Placed[]): string {
  const { area, x, y } = frameOf(places)
  const upTicks = ticks(y.from, y.to, Math.max(2, Math.round(area.height / 90)))
  return svg({
    ...{ width: mapWidth, height: area.y + area.height + 44, description: describe(places) },
    marks: [
      ...axes(
        area,
        { scale: x, ticks: ticks(x.from, x.to, 6), label: 'x on the drawing, mm' },
        { scale: y, ticks: upTicks, label: 'y, mm' }
      ),
      ...onDrawing(places, x, y)
    ]
  })
}

const centerOf = ({ place: { at } }: Placed, x: Scale, y: Scale): Point => [on(x, at.x_mm), on(y, at.y_mm)]

const distance = ([x, y]: Point, [u, v]: Point): number => Math.sqrt((x - u) * (x - u) + (y - v) * (y - v))

const done: readonly PlaceState['state'][] = ['examined, no relevant indication', 'no recordable indication, decided']

/** Marks as large as their distance allows; words where there is room, and at each hole that is not done with. */
function onDrawing(places: readonly Placed[], x: Scale, y: Scale): readonly Mark[] {
  const centers = places.map((one) => centerOf(one, x, y))
  const near = nearest(centers)
  return places.flatMap((one, at) =>
    hole(one, {
      ...{ center: centers[at]!, side: Math.min(symbolSide, Math.max(smallest, 0.5 * near)), room: Math.max(60, near) },
      hasWords: near >= 44 || !done.includes(one.state)
    })
  )
}

/** Smallest distance of two holes, px; as far as the drawing is wide where there is one. */
function nearest(centers: readonly Point[]): number {
  let least = mapWidth
  for (const [at, one] of centers.entries())
    for (const other of centers.slice(at + 1)) least = Math.min(least, distance(one, other))
  return least
}
