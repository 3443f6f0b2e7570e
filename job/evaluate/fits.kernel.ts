/**
 * A column between its anchors. The first value is kept; the others are those at each `every`-th place from the second on, and
 * between them the cubic through the four nearest (Lagrange). Five values or more.
 */
export function steadily(anchors: readonly number[], every: number): Float64Array {
  const count = anchors.length
  const column = new Float64Array((count - 2) * every + 2)
  const weights = weightsFor(every)
  column[0] = anchors[0]!
  for (let k = 1; k < count; k++) column[1 + (k - 1) * every] = anchors[k]!
  for (let k = 1; k < count - 1; k++) {
    const from = Math.max(1, Math.min(k - 1, count - 4))
    const a = anchors[from]!
    const b = anchors[from + 1]!
    const c = anchors[from + 2]!
    const d = anchors[from + 3]!
    let w = 4 * every * (k - from)
    for (let at = 1; at < every; at++) {
      w += 4
      column[1 + (k - 1) * every + at] =
        weights[w]! * a + weights[w + 1]! * b + weights[w + 2]! * c + weights[w + 3]! * d
    }
  }
  return column
}

let known: { readonly every: number; readonly weights: Float64Array } | undefined

/** Weights of four places in a row, `[place, 4]`, by so many places a step: over the three steps between them. */
function weightsFor(every: number): Float64Array {
  if (known?.every === every) return known.weights
  const weights = new Float64Array(12 * every)
  for (let i = 0; i < 3 * every; i++) {
    const u = i / every
    weights[4 * i] = (-(u - 1) * (u - 2) * (u - 3)) / 6
    weights[4 * i + 1] = (u * (u - 2) * (u - 3)) / 2
    weights[4 * i + 2] = (-u * (u - 1) * (u - 3)) / 2
    weights[4 * i + 3] = (u * (u - 1) * (u - 2)) / 6
  }
  known = { every, weights }
  return weights
}
