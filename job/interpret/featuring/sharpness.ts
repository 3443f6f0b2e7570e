import type { Loop } from './loop.ts'
import { type NotchShape, shapeOver } from './shape.ts'

/**
 * Share of a loop's energy that a running mean of half a lobe to both sides does not follow, less the share that it does
 * not follow in the notch's own shape: 0 for the notch and whatever is broader, near 1 for what is far narrower.
 */
export function sharpnessOf(loop: Loop, shape: NotchShape, smooth: number): number {
  const { offset } = loop
  if (offset.length < 3) return 0
  const reach = Math.max(1, Math.round((smooth * shape.spacing) / (offset[1]! - offset[0]!)))
  const own = shapeOver(shape, offset)
  const notch = unfollowed([own], reach)
  return notch < 1 ? Math.max(0, (unfollowed([loop.x, loop.y], reach) - notch) / (1 - notch)) : 0
}

/** Energy of columns less their running mean of ± reach elements, over their energy, both where the mean is whole. */
function unfollowed(columns: readonly Float64Array[], reach: number): number {
  let rest = 0
  let energy = 0
  for (const column of columns) {
    let sum = 0
    for (let i = 0; i < column.length; i++) {
      sum += column[i]!
      const middle = i - reach
      if (middle < reach) continue
      const value = column[middle]!
      const off = value - sum / (2 * reach + 1)
      rest += off * off
      energy += value * value
      sum -= column[middle - reach]!
    }
  }
  return energy > 0 ? rest / energy : 0
}
