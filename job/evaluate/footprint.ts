import { exp } from '@trueloop/ground/numerics'
import { bellCumulative } from './bell.kernel.ts'

/**
 * A flaw of a length seen along the axis through the footprint of the probe, taken as a bell (normal density) of `width`
 * at half its height. All lengths in one unit.
 */

/** Half-height width of a normal density over its deviation, 2√(2 ln 2). */
const WIDTH = 2.3548200450309493
/** Below this share of the width a flaw is a point: differences of the table would be rounding. */
const POINT = 0.02

/** Deviation of the bell that is `width` at half its height. */
export const deviationOf = (width: number): number => width / WIDTH

export const isPoint = (length: number, width: number): boolean => length <= POINT * width

/** Share of the footprint that a flaw of this length fills when the probe is over its middle: 0 to 1. */
export function filledShare(length: number, width: number): number {
  return 2 * bellCumulative((0.5 * length * WIDTH) / width) - 1
}

/** Answer at a distance from the middle of the flaw over the answer at its middle. */
export function seenAt(
  distance: number,
  { length, width }: { readonly length: number; readonly width: number }
): number {
  const deviation = deviationOf(width)
  const u = distance / deviation
  if (isPoint(length, width)) return exp(-0.5 * u * u)
  const half = (0.5 * length) / deviation
  return (bellCumulative(u + half) - bellCumulative(u - half)) / (2 * bellCumulative(half) - 1)
}

/** −6 dB extent of a flaw of this length as the probe shows it: nearly `width` for a short flaw, the length for a long one. */
export function extentThrough(length: number, width: number): number {
  let low = 0
  let high = length + width
  for (let step = 0; step < 60; step++) {
    const middle = 0.5 * (low + high)
    if (seenAt(0.5 * middle, { length, width }) > 0.5) low = middle
    else high = middle
  }
  return 0.5 * (low + high)
}
