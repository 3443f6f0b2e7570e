/**
 * Matched output at the points [from, to) of a standardized vertical column: Σ w(k)·y(n + k), k from −half to half,
 * summed in this order for each point; four points at a time, so that their sums need not wait for each other.
 * @param y column `[n]`; must hold `half` points on both sides of the range
 * @param weights `[2·half + 1]`
 */
export function matchedOutput(
  y: Float64Array,
  weights: Float64Array,
  { from, to }: { readonly from: number; readonly to: number }
): Float64Array {
  const size = weights.length
  const half = (size - 1) / 2
  const out = new Float64Array(to - from)
  let n = from
  for (; n + 4 <= to; n += 4) {
    let i = n - half
    let a = 0
    let b = 0
    let c = 0
    let d = 0
    let y0 = y[i]!
    let y1 = y[i + 1]!
    let y2 = y[i + 2]!
    i += 3
    for (let k = 0; k < size; k++, i++) {
      const w = weights[k]!
      const y3 = y[i]!
      a += w * y0
      b += w * y1
      c += w * y2
      d += w * y3
      y0 = y1
      y1 = y2
      y2 = y3
    }
    out[n - from] = a
    out[n - from + 1] = b
    out[n - from + 2] = c
    out[n - from + 3] = d
  }
  for (; n < to; n++) {
    let sum = 0
    for (let k = 0; k < size; k++) sum += weights[k]! * y[n - half + k]!
    out[n - from] = sum
  }
  return out
}
