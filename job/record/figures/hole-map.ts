import { type Mark, svg } from '@trueloop/ground/picture'
import type { PlaceState } from '../state.ts'
import { drawingOf, isPlaced, tilesOf } from './hole-map-drawing.ts'
import { describe, hole, mapWidth } from './hole-mark.ts'
import { symbolSide } from './symbols.ts'

/** A part of the map: a drawing, its holes, and how they are laid out. */
export interface MapPart {
  readonly svg: string
  readonly places: readonly PlaceState[]
  readonly drawn: 'in the order of the list' | 'at their places on the drawing'
}

/**
 * All holes of a job with their states, each once, in as many drawings as it takes to read them: those with a place on
 * the drawing of the component there, to scale, the others in the order of the list.
 */
export function holeMap(places: readonly PlaceState[]): readonly MapPart[] {
  const { tiles, left } = tilesOf(places.filter(isPlaced))
  const over = new Set<PlaceState>(left)
  const listed = places.filter((one) => !isPlaced(one) || over.has(one))
  return [
    ...tiles.map((some) => ({
      ...{ svg: drawingOf(some), places: some, drawn: 'at their places on the drawing' as const }
    })),
    ...chunks(listed).map((some) => ({ svg: grid(some), places: some, drawn: 'in the order of the list' as const }))
  ]
}

const columns = 9
const rows = 17
const cell = { width: mapWidth / columns, height: 56 }

const chunks = (all: readonly PlaceState[]): readonly (readonly PlaceState[])[] =>
  Array.from({ length: Math.ceil(all.length / (columns * rows)) }, (_, at) =>
    all.slice(at * columns * rows, (at + 1) * columns * rows)
  )

function grid(places: readonly PlaceState[]): string {
  const marks = places.flatMap((one, at): readonly Mark[] =>
    hole(one, {
      ...{ center: [cell.width * ((at % columns) + 0.5), cell.height * Math.floor(at / columns) + 12] },
      ...{ side: symbolSide, room: cell.width, hasWords: true }
    })
  )
  const height = cell.height * Math.ceil(places.length / columns)
  return svg({ width: mapWidth, height, description: describe(places), marks })
}
