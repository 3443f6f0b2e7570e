import { corners, filled, framed, type Mark, type Point, type Stroke, symbolSvg } from '@trueloop/ground/picture'
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
const paper = { tone: 'paper', width: 1.5 } as const

const stroke = (of: Stroke, ...points: readonly Point[]): Mark => ({ mark: 'path', points, stroke: of })

/** Twelve corners of a ring, and a gap at the upper right. */
const ring: readonly Point[] = [
  ...([
    [10.5, 2.5],
    [8, 2],
    [5, 2.8],
    [2.8, 5],
    [2, 8],
    [2.8, 11]
  ] as const),
  ...([
    [5, 13.2],
    [8, 14],
    [11, 13.2],
    [13.2, 11],
    [14, 8],
    [13.6, 5.8]
  ] as const)
]

const half: Mark = filled({ ...box, width: 6 }, 'ink')
const peak: Mark = { mark: 'path', points: triangle, closed: true, fill: 'ink' }

const marks: Readonly<Record<Exclude<PlaceStateName, 'voided by a recheck'>, readonly Mark[]>> = {
  'not examined': [{ mark: 'hatch', box, tone: 'ink', gap: 4 }, framed(box, dashed)],
  'examined, no relevant indication': [framed(box, ink), bar],
  undecided: [half, framed(box, ink)],
  'relevant, not decided': [peak],
  'no recordable indication, decided': [framed(box, ink), stroke(ink, [4, 8.5], [7, 11.5], [12, 4.5])],
  'ream and re-inspect': [stroke(ink, ...ring)],
  reject: [filled(box, 'ink'), stroke(paper, [3, 13], [13, 3])],
  refer: [filled(box, 'ink'), stroke(paper, [4, 8], [12, 8]), stroke(paper, [8.5, 4.5], [12, 8], [8.5, 11.5])]
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

/** Side of the square that a symbol is drawn in, px. */
export const symbolSide = 16

/** The symbol as marks in a square of `symbolSide`, for a larger drawing. */
export const stateMarks = (place: PlaceState): readonly Mark[] =>
  place.state === 'voided by a recheck' ? voided(place) : marks[place.state]

export const stateSymbol = (place: PlaceState): string => symbolSvg(symbolSide, stateMarks(place))
