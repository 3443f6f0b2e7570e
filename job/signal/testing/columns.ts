/** Test help: fixed columns that the reference programs compute by the same formulas, and comparison. */

/** x[t] = ((7 t² + 3 t) mod 101)/101 − 0.5 and y[t] = ((5 t² + 11 t) mod 97)/97 − 0.5. */
export const fixedColumns = (length: number): { readonly x: Float64Array; readonly y: Float64Array } => ({
  x: Float64Array.from({ length }, (_, t) => ((7 * t * t + 3 * t) % 101) / 101 - 0.5),
  y: Float64Array.from({ length }, (_, t) => ((5 * t * t + 11 * t) % 97) / 97 - 0.5)
})

/** Largest distance of two columns; infinite where their lengths differ or anything is no number. */
export function farthest(a: ArrayLike<number>, b: ArrayLike<number>): number {
  if (a.length !== b.length) return Number.POSITIVE_INFINITY
  let most = 0
  for (let i = 0; i < a.length; i++) {
    const d = Math.abs(a[i]! - b[i]!)
    if (!(d <= most)) most = Number.isNaN(d) ? Number.POSITIVE_INFINITY : d
  }
  return most
}
