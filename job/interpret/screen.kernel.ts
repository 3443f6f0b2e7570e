/** What a place has to reach to be kept: quadratic forms of single and joined sizes, 1 at the screen. */
export interface Forms {
  readonly single: Form
  readonly joined: Form
}

/** q = xx·x² + xy·x·y + yy·y² (xy holds both mixed terms). */
export interface Form {
  readonly xx: number
  readonly xy: number
  readonly yy: number
}

interface Columns {
  readonly x: Float64Array
  readonly y: Float64Array
}

/**
 * Squared level of each element of [from, to): the larger of the single size there and the joined size `lag` elements
 * before, each in its form; 1 and more is above the screen.
 * @param out `[to - from]`
 * @returns the largest of them
 */
export function screenLevels(
  single: Columns,
  joined: Columns,
  forms: Forms,
  { from, to, lag, out }: { from: number; to: number; lag: number; out: Float64Array }
): number {
  const { xx: a, xy: b, yy: c } = forms.single
  const { xx: d, xy: e, yy: f } = forms.joined
  const { x: sx, y: sy } = single
  const { x: jx, y: jy } = joined
  let most = 0
  let i = from
  for (const alone = Math.min(to, lag); i < alone; i++) {
    const q = a * sx[i]! * sx[i]! + (b * sx[i]! + c * sy[i]!) * sy[i]!
    out[i - from] = q
    most = Math.max(most, q)
  }
  for (let k = i - lag, n = i - from; i < to; i++, k++, n++) {
    const x = sx[i]!
    const y = sy[i]!
    const u = jx[k]!
    const v = jy[k]!
    let q = a * x * x + (b * x + c * y) * y
    const p = d * u * u + (e * u + f * v) * v
    if (p > q) q = p
    out[n] = q
    if (q > most) most = q
  }
  return most
}

/** Largest less smallest value of [from, to). */
export function rangeOf(values: Float64Array, from: number, to: number): number {
  let most = values[from]!
  let least = most
  for (let i = from + 1; i < to; i++) {
    const value = values[i]!
    if (value > most) most = value
    else if (value < least) least = value
  }
  return most - least
}
