/** Vertex of the parabola through an element and its two neighbors; the element itself at an end or where they are level. */
export function vertex(column: Float64Array, i: number): { readonly at: number; readonly value: number } {
  const middle = column[i]!
  const before = column[i - 1]
  const after = column[i + 1]
  if (before === undefined || after === undefined) return { at: i, value: middle }
  const bend = before - 2 * middle + after
  if (bend === 0) return { at: i, value: middle }
  const shift = Math.max(-0.5, Math.min(0.5, (0.5 * (before - after)) / bend))
  return { at: i + shift, value: middle + 0.25 * (after - before) * shift }
}
