import type { Anchored, Behind } from './behind.ts'
import { steadily } from './fits.kernel.ts'
import { filledShare } from './footprint.ts'
import { ANCHORS, type Lengths } from './lengths.ts'

/** What may lie behind the rows of a flaw, columns `[length]` of what `Behind` says of each. */
export interface Fits extends Lengths {
  readonly middle_mm: Float64Array
  readonly share: Float64Array
  readonly x: Float64Array
  readonly y: Float64Array
  readonly xx: Float64Array
  readonly yy: Float64Array
  readonly misfit: Float64Array
}

/** The fits at all lengths, misfits over what is expected of them: between anchors by the four nearest of them (Lagrange). */
export function whole({ anchors, lengths, width_mm }: Anchored, over = 1): Fits {
  const { length_mm } = lengths
  const count = length_mm.length
  const share = new Float64Array(count)
  const xx = new Float64Array(count)
  const misfit = steadily(columnOf(anchors, 'misfit'), ANCHORS)
  const yy = steadily(columnOf(anchors, 'yy'), ANCHORS)
  const perYy = anchors[0]!.xx / anchors[0]!.yy
  for (let j = 0; j < count; j++) {
    share[j] = filledShare(length_mm[j]!, width_mm)
    xx[j] = perYy * yy[j]!
    misfit[j] = Math.max(0, misfit[j]! / over)
  }
  const [x, y] = [steadily(columnOf(anchors, 'x'), ANCHORS), steadily(columnOf(anchors, 'y'), ANCHORS)]
  return { ...lengths, share, misfit, x, y, xx, yy, middle_mm: steadily(columnOf(anchors, 'middle_mm'), ANCHORS) }
}

/** Fits are turned into columns one after the other: the same values serve all. */
const values: number[] = []

function columnOf(anchors: readonly Behind[], name: keyof Behind): readonly number[] {
  for (let k = 0; k < anchors.length; k++) values[k] = anchors[k]![name]
  return values
}

/** The place of the least misfit; the first of equals. */
export function bestLength({ misfit }: Pick<Fits, 'misfit'>): number {
  let best = 0
  for (let j = 1; j < misfit.length; j++) if (misfit[j]! < misfit[best]!) best = j
  return best
}
