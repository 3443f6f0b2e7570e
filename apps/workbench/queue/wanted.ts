import type { PlaceRow, State } from '../asking/client.ts'

/** Which places of the queue a person wants to see. No state chosen means all. */
export interface Wanted {
  readonly states: readonly State[]
  readonly text: string
  readonly waiting: boolean
}

/** Places in the order of the list. `text` is looked for in names and in the reasons. */
export function wantedPlaces(places: readonly PlaceRow[], { states, text, waiting }: Wanted): readonly PlaceRow[] {
  const looked = text.trim().toLowerCase()
  const chosen = new Set(states)
  return places.filter(
    (place) =>
      (chosen.size === 0 || chosen.has(place.state)) && (!waiting || place.open.length > 0) && says(place, looked)
  )
}

const says = ({ name, why, open }: PlaceRow, looked: string): boolean =>
  looked === '' || [name, ...why, ...open].some((one) => one.toLowerCase().includes(looked))

/** The next place after this one that waits for a person, around the end of the list; undefined where none waits. */
export function nextOpen<P extends Pick<PlaceRow, 'name' | 'open'>>(places: readonly P[], name: string): P | undefined {
  const at = places.findIndex((place) => place.name === name)
  return [...places.slice(at + 1), ...places.slice(0, Math.max(0, at))].find(({ open }) => open.length > 0)
}
