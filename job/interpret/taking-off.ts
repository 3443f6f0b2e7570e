import { along, type Line } from './line.ts'
import type { Place } from './spots.ts'

interface Columns {
  readonly x: Float64Array
  readonly y: Float64Array
}

/** Sizes of a sheet, joined and on one revolution, from which places are taken off. */
export interface Left {
  readonly joined: Columns
  readonly single: Columns
  readonly perTurn: number
  /** what a flaw shows around itself, all round one revolution, `[perTurn]`, 1 in the middle */
  readonly answer: Float64Array
  /** revolutions beyond its ridge on which a place may show at most: where a probe dwells, many */
  readonly most: number
}

/**
 * Takes a place off the sizes: on each revolution that it shows on, its size there along its own direction, times the
 * notch's own answer all round. What is left is the wall without it, ringing of the band included: one component a
 * place, as in the method of Högbom (1974) for images of the sky.
 * @returns first and last element that it showed at
 */
export function takeOff(
  { ridge, line }: Pick<Place, 'ridge' | 'line'>,
  left: Left
): { readonly first: number; readonly last: number } {
  const { joined, single } = left
  const shown = ({ x, y }: Columns, i: number) => along(line, { x: x[i]!, y: y[i]! })
  const elements = columnsOf(ridge, (i) => shown(joined, i), left)
  for (const middle of elements) {
    for (const sizes of [joined, single]) subtract(middle, { line, size: shown(sizes, middle) }, sizes, left)
  }
  return { first: elements[0]!, last: elements.at(-1)! }
}

/** Elements of a place, one a revolution: its ridge, and beyond both its ends as long as it stands above the noise. */
function columnsOf(
  ridge: Place['ridge'],
  shown: (element: number) => number,
  { joined: { x }, perTurn, most }: Left
): readonly number[] {
  const elements = [...ridge.values()].sort((a, b) => a - b)
  const further = (from: number, sense: 1 | -1) => {
    const more: number[] = []
    for (let k = 1; k <= most; k++) {
      const i = from + sense * k * perTurn
      if (i < 0 || i >= x.length || shown(i) < 1) break
      more.push(i)
    }
    return more
  }
  return [...further(elements[0]!, -1).reverse(), ...elements, ...further(elements.at(-1)!, 1)]
}

function subtract(
  middle: number,
  { line: { back }, size }: { readonly line: Line; readonly size: number },
  { x, y }: Columns,
  { perTurn, answer }: Pick<Left, 'perTurn' | 'answer'>
): void {
  const first = middle - perTurn / 2
  for (let k = Math.max(0, -first); k < perTurn && first + k < x.length; k++) {
    const share = size * answer[k]!
    x[first + k] = x[first + k]! - share * back.x
    y[first + k] = y[first + k]! - share * back.y
  }
}
