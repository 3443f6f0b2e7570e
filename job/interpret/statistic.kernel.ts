/** How sizes are weighed: the plane in which the noise is round, and the cone of directions in which flaws lie in it. */
export interface Weighing {
  /** whitened = (x/a, (y − b·x/a)/c) */
  readonly a: number
  readonly b: number
  readonly c: number
  /** unit directions at both sides of the cone in the whitened plane, the second counterclockwise of the first */
  readonly from: { readonly x: number; readonly y: number }
  readonly to: { readonly x: number; readonly y: number }
}

/**
 * Signed statistic of each element: how many deviations of the noise a size stands out in the best direction of the
 * cone; negative for the opposite direction (the lobes reversed). Elements whose whole size is below `least` get 0.
 * @param out written for as many elements as it has, and given back
 */
export function weigh(
  x: Float64Array,
  y: Float64Array,
  { a, b, c, from, to }: Weighing,
  { least, out }: { readonly least: number; readonly out: Float64Array }
): Float64Array {
  const floor = least * least
  const byA = 1 / a
  const byC = 1 / c
  const mx = from.x + to.x
  const my = from.y + to.y
  for (let i = 0; i < out.length; i++) {
    const u = x[i]! * byA
    const v = (y[i]! - b * u) * byC
    const square = u * u + v * v
    if (square < floor) {
      out[i] = 0
      continue
    }
    const sign = u * mx + v * my < 0 ? -1 : 1
    const p = sign * u
    const q = sign * v
    if (from.x * q - from.y * p >= 0 && p * to.y - q * to.x >= 0) {
      out[i] = sign * Math.sqrt(square)
      continue
    }
    const one = p * from.x + q * from.y
    const other = p * to.x + q * to.y
    out[i] = sign * Math.max(0, one, other)
  }
  return out
}
