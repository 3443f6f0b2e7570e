import { type Holding, ofKind } from './corrections.ts'
import type { EntryOf } from './kinds.ts'
import type { DrawingState, DrawnPlace } from './state.ts'

/** Drawings in the order in which they came; one that came twice is there once, under what was said of it last. */
export function drawingsOf(all: readonly Holding[]): readonly DrawingState[] {
  const drawings = new Map<string, EntryOf<'drawing-kept'>>()
  for (const entry of ofKind(all, 'drawing-kept')) drawings.set(entry.sha256, entry)
  const drawn = ofKind(all, 'places-drawn')
  return [...drawings.values()].map((entry) => ({
    entry,
    places: placesOn(drawn.filter(({ drawing }) => drawing === entry.sha256))
  }))
}

function placesOn(drawn: readonly EntryOf<'places-drawn'>[]): readonly DrawnPlace[] {
  const places = new Map<string, DrawnPlace>()
  for (const { place, at } of drawn.flatMap((one) => one.places)) {
    const key = `${place.of} ${place.name}`
    if (at === undefined) places.delete(key)
    else places.set(key, { ...place, ...at })
  }
  return [...places.values()]
}
