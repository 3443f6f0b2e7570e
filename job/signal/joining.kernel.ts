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
  const first = from - THREE * perTurn >= 0 && to - 1 + THREE * perTurn < length ? THREE : 0
  if (weights.length > THREE && first > 0) joinThree(column, weights, out, { perTurn, from, to })
  else joinNone(column, weights[0]!, out, { from, to })
  for (let r = weights.length > THREE ? first + 1 : 1; r < weights.length; r++) {
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

const THREE = 3

interface Row {
  readonly from: number
  readonly to: number
}

function joinNone(column: Float64Array, weight: number, out: Float64Array, { from, to }: Row): void {
  for (let i = from; i < to; i++) out[i] = weight * column[i]!
}

/** The first three rows to either side at once, in the same order of sums, so that each element is written once. */
function joinThree(
  column: Float64Array,
  weights: Float64Array,
  out: Float64Array,
  { from, to, perTurn }: Row & { readonly perTurn: number }
): void {
  const w0 = weights[0]!
  const w1 = weights[1]!
  const w2 = weights[2]!
  const w3 = weights[3]!
  for (let i = from; i < to; i++) {
    const one = w1 * (column[i - perTurn]! + column[i + perTurn]!)
    const two = w2 * (column[i - 2 * perTurn]! + column[i + 2 * perTurn]!)
    const three = w3 * (column[i - 3 * perTurn]! + column[i + 3 * perTurn]!)
    out[i] = w0 * column[i]! + one + two + three
  }
}
