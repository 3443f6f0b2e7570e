import { corners, filled, framed, type Mark, type Point, symbolSvg } from '@trueloop/ground/picture'
import type { PlaceState, PlaceStateName } from '../state.ts'

/** One shape a state, so that no state is told by color alone; the word always stands beside it. */

const box = { x: 2, y: 2, width: 12, height: 12 }
const ink = { tone: 'ink', width: 1.5 } as const
const dashed = { tone: 'ink', width: 1.5, dash: '2.5 2' } as const
const triangle: readonly Point[] = [
  [8, 2],
  [14.5, 14],
  [1.5, 14]
]

const bar: Mark = {
  mark: 'path',
  points: [
    [5, 8],
    [11, 8]
  ],
  stroke: { tone: 'ink', width: 2 }
}
const half: Mark = filled({ ...box, width: 6 }, 'ink')
const peak: Mark = { mark: 'path', points: triangle, closed: true, fill: 'ink' }

const marks: Readonly<Record<Exclude<PlaceStateName, 'voided by a recheck'>, readonly Mark[]>> = {
  'not examined': [{ mark: 'hatch', box, tone: 'ink', gap: 4 }, framed(box, dashed)],
  'examined, no relevant indication': [framed(box, ink), bar],
  undecided: [half, framed(box, ink)],
  'relevant, not decided': [peak]
}

/** A voided place keeps the mark it had, small, in a dashed outline. */
function voided({ openFromVoided }: PlaceState): readonly Mark[] {
  const relevant = openFromVoided.some((one) => one.class === 'relevant')
  const small: Mark = relevant
    ? {
        mark: 'path',
        points: [
          [8, 5],
          [11.5, 11],
          [4.5, 11]
        ],
        closed: true,
        fill: 'ink'
      }
    : openFromVoided.length > 0
      ? { mark: 'path', points: corners({ x: 5, y: 5, width: 3, height: 6 }), closed: true, fill: 'ink' }
      : bar
  return [small, framed(box, dashed)]
}

export const stateSymbol = (place: PlaceState): string =>
  symbolSvg(16, place.state === 'voided by a recheck' ? voided(place) : marks[place.state])
