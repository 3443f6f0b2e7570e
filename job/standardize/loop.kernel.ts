/** The two points of a loop farthest from each other: later less earlier. */
export interface Chord {
  readonly length: number
  readonly x: number
  readonly y: number
  readonly earlier: number
  readonly later: number
}

/**
 * Peak-to-peak of a loop: its longest chord between the points [from, to). Does not depend on the operating point.
 * @param x columns `[n]`
 */
export function longestChord(x: Float64Array, y: Float64Array, { from, to }: { from: number; to: number }): Chord {
  let best = -1
  let a = from
  let b = from
  for (let i = from; i < to; i++) {
    const xi = x[i]!
    const yi = y[i]!
    for (let j = i + 1; j < to; j++) {
      const dx = x[j]! - xi
      const dy = y[j]! - yi
      const d = dx * dx + dy * dy
      if (d > best) {
        best = d
        a = i
        b = j
      }
    }
  }
  const length = Math.sqrt(Math.max(0, best))
  return { length, x: x[b]! - x[a]!, y: y[b]! - y[a]!, earlier: a, later: b }
}
