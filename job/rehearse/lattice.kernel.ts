/**
 * Cubic B-spline surface over a ring: 16 coefficients around one point, `columns` around the ring (periodic), `rows` along
 * it, nothing outside. u in columns, v in rows; `values[row · columns + column]`.
 */
export function ringSpline(values: Float64Array, columns: number, at: { u: number; v: number }): number {
  const rows = values.length / columns
  const column = Math.floor(at.u)
  const row = Math.floor(at.v)
  const fu = at.u - column
  const fv = at.v - row
  if (row < -2 || row > rows) return 0
  const gu = 1 - fu
  const a0 = (gu * gu * gu) / 6
  const a1 = 2 / 3 - fu * fu * (1 - 0.5 * fu)
  const a2 = 2 / 3 - gu * gu * (1 - 0.5 * gu)
  const a3 = (fu * fu * fu) / 6
  const gv = 1 - fv
  let sum = 0
  for (let j = -1; j <= 2; j++) {
    const r = row + j
    if (r < 0 || r >= rows) continue
    const weight =
      j === -1
        ? (gv * gv * gv) / 6
        : j === 0
          ? 2 / 3 - fv * fv * (1 - 0.5 * fv)
          : j === 1
            ? 2 / 3 - gv * gv * (1 - 0.5 * gv)
            : (fv * fv * fv) / 6
    const base = r * columns
    const c0 = (((column - 1) % columns) + columns) % columns
    const c1 = c0 + 1 === columns ? 0 : c0 + 1
    const c2 = c1 + 1 === columns ? 0 : c1 + 1
    const c3 = c2 + 1 === columns ? 0 : c2 + 1
    sum +=
      weight * (a0 * values[base + c0]! + a1 * values[base + c1]! + a2 * values[base + c2]! + a3 * values[base + c3]!)
  }
  return sum
}

/** The same along a line: nothing outside its ends. */
export function lineSpline(values: Float64Array, v: number): number {
  const row = Math.floor(v)
  if (row < -2 || row > values.length) return 0
  const f = v - row
  const g = 1 - f
  const a = row >= 1 && row <= values.length ? values[row - 1]! : 0
  const b = row >= 0 && row < values.length ? values[row]! : 0
  const c = row >= -1 && row + 1 < values.length ? values[row + 1]! : 0
  const d = row >= -2 && row + 2 < values.length ? values[row + 2]! : 0
  return (g * g * g * a + f * f * f * d) / 6 + (2 / 3 - f * f * (1 - 0.5 * f)) * b + (2 / 3 - g * g * (1 - 0.5 * g)) * c
}
