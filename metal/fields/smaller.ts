/** Extent of one crack as shares of that of another, each at most 1 where it is smaller. */
export interface Smaller {
  readonly depth: number
  readonly length: number
}

/**
 * The least share of a crack's answer that a crack of other extent has: in proportion to its depth, and to the square of its
 * length; where it is the larger one, 1. Computed for closed cracks about as long as a coil is wide, answers fall slower
 * than that with depth, and with length between in proportion and by the square.
 */
export function leastAnswerShare({ depth, length }: Smaller): number {
  const shorter = Math.min(1, length)
  return Math.min(1, depth) * shorter * shorter
}
