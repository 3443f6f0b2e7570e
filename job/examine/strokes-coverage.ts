import { UNIT } from '../signal/index.ts'
import type { Stretch } from './strokes-band.ts'

/** A stretch of the ruler, in revolutions, that does not count as examined. */
export interface Gap {
  readonly from: number
  readonly to: number
}

export interface Counted {
  readonly zone: { readonly z0_m: number; readonly z1_m: number }
  readonly maxPitch_m: number
  /** revolutions that don't count; those that touch are one gap */
  readonly unusable: readonly Gap[]
}

/**
 * Share of a zone, 0 to 1, over which one of the strokes surely passed at no more than the largest pitch, by counting: every
 * length of the largest pitch there holds a pass, at every angle. Over revolutions that don't count the advance adds up.
 */
export function coveredByCounting(
  strokes: readonly { readonly stretches: readonly Stretch[] }[],
  { zone, maxPitch_m, unusable }: Counted
): number {
  const covered = strokes
    .flatMap(({ stretches }) => stretches)
    .filter((stretch) => stretch.largestAdvance_m * (1 + longestGap(stretch, unusable)) <= maxPitch_m)
    .map(({ z0_m, z1_m }) => ({ from: Math.max(z0_m, zone.z0_m), to: Math.min(z1_m, zone.z1_m) }))
    .filter(({ from, to }) => to > from)
    .sort((a, b) => a.from - b.from)
  let reached = zone.z0_m
  let sum = 0
  for (const { from, to } of covered) {
    sum += Math.max(0, to - Math.max(from, reached))
    reached = Math.max(reached, to)
  }
  return sum / (zone.z1_m - zone.z0_m)
}

/** Longest run of unusable revolutions that meets a stretch, begun ones counted whole. */
function longestGap({ from, to }: Stretch, unusable: readonly Gap[]): number {
  const inside = unusable.filter((gap) => gap.to * UNIT > from && gap.from * UNIT < to).sort((a, b) => a.from - b.from)
  let longest = 0
  let begin = Number.NEGATIVE_INFINITY
  let end = Number.NEGATIVE_INFINITY
  for (const gap of inside) {
    if (gap.from > end) begin = gap.from
    end = Math.max(end, gap.to)
    longest = Math.max(longest, end - begin)
  }
  return Math.ceil(longest)
}
