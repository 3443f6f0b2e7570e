/**
 * A column joined over revolutions: Σ w(r) · column(i + r · perTurn), r from −reach to reach, w symmetric, for the elements
 * [from, to); what lies before element 0 or at `length` and beyond counts as 0.
 * @param weights w(0), w(1), … `[reach + 1]`
 * @param out written at the same elements
 */
export function joinRows(
  column: Float64Array,
  weights: Float64Array,
  out: Float64Array,
  { from, to, perTurn, length }: { from: number; to: number; perTurn: number; length: number }
): void {
  const middle = weights[0]!
  for (let i = from; i < to; i++) out[i] = middle * column[i]!
  for (let r = 1; r < weights.length; r++) {
    const w = weights[r]!
    const shift = r * perTurn
    const before = from - shift >= 0
    const after = to - 1 + shift < length
    if (before && after)
      for (let i = from; i < to; i++) out[i] = out[i]! + w * (column[i - shift]! + column[i + shift]!)
    else if (after) for (let i = from; i < to; i++) out[i] = out[i]! + w * column[i + shift]!
    else if (before) for (let i = from; i < to; i++) out[i] = out[i]! + w * column[i - shift]!
  }
}
