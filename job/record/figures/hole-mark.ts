import { type Mark, moved, type Point } from '@trueloop/ground/picture'
import { missingShare } from '../place.ts'
import { count } from '../print.ts'
import type { PlaceState, PlaceStateName } from '../state.ts'
import { stateMarks, symbolSide } from './symbols.ts'

/** The word beside the mark of a hole. The legend gives the state in full. */
export const mapWords: Readonly<Record<PlaceStateName, string>> = {
  'not examined': 'not examined',
  'examined, no relevant indication': 'nothing relevant',
  undecided: 'undecided',
  'relevant, not decided': 'relevant',
  'voided by a recheck': 'voided',
  'ream and re-inspect': 'ream',
  refer: 'refer',
  reject: 'reject',
  'no recordable indication, decided': 'decided'
}

/** Width of every part of the map, px. */
export const mapWidth = 800

export interface Drawn {
  readonly center: Point
  readonly side: number
  /** how wide a name may be, px */
  readonly room: number
  readonly hasWords: boolean
}

/** The mark, under it the name and the state in a word. */
export function hole(place: PlaceState, { center: [x, y], side, room, hasWords }: Drawn): readonly Mark[] {
  const to: Point = [x - side / 2, y - side / 2]
  const texts = hasWords ? [fitted(place.place.name, room, 12), mapWords[place.state], rest(place)] : []
  return [
    ...moved(stateMarks(place), { to, scale: side / symbolSide }),
    ...texts.flatMap((text, line): readonly Mark[] =>
      text === ''
        ? []
        : [
            {
              ...{ mark: 'text', at: [x, y + side / 2 + 11.5 + 10 * line], text, anchor: 'middle', rim: true },
              ...(line === 0 ? { size: 12, bold: true } : { size: 10, tone: 'soft' as const })
            }
          ]
    )
  ]
}

/** What the state alone would hide. */
function rest(place: PlaceState): string {
  const isPart = missingShare(place) === 'part'
  return [...(isPart ? ['in part'] : []), ...(place.provisional ? ['provisional'] : [])].join(', ')
}

/** Most letters are narrower than this share of their size. */
const letter = 0.62

/** A name that does not fit keeps its end, where names of a row differ. */
function fitted(name: string, room: number, size: number): string {
  const most = Math.max(3, Math.floor(room / (letter * size)))
  return name.length <= most ? name : `…${name.slice(name.length - most + 1)}`
}

/** States with their numbers, in words. */
export function describe(places: readonly PlaceState[]): string {
  const names = Object.keys(mapWords) as readonly PlaceStateName[]
  const parts = names.flatMap((name) => {
    const some = places.filter(({ state }) => state === name).length
    return some === 0 ? [] : [`${some} ${name}`]
  })
  return `Map of ${count(places.length, 'hole')}: ${parts.join('; ')}.`
}
