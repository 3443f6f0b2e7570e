/** Reading values off tables: the place of a least value, and quantiles of weights. */

/** Which value is the least; the first of equals. */
export function leastOf(values: ArrayLike<number>): number {
  let i = 0
  for (let k = 1; k < values.length; k++) if (values[k]! < values[i]!) i = k
  return i
}

/** Place of the least value, by the parabola through it and its neighbors; places at even distances. */
export const lowest = (at: ArrayLike<number>, values: ArrayLike<number>): number =>
  lowestBeside(at, values, leastOf(values))

/** The same where the least value is known to be the i-th. */
export function lowestBeside(at: ArrayLike<number>, values: ArrayLike<number>, i: number): number {
  const [before, here, after] = [values[i - 1], values[i]!, values[i + 1]]
  if (before === undefined || after === undefined) return at[i]!
  const bend = before - 2 * here + after
  const shift = bend > 0 ? (0.5 * (before - after)) / bend : 0
  return at[i]! + shift * (at[i + 1]! - at[i]!)
}

/** Where the running sum passes a share of the whole; each weight is spread evenly around its place. */
export function quantileOf(at: ArrayLike<number>, weights: ArrayLike<number>, share: number): number {
  let total = 0
  for (let i = 0; i < weights.length; i++) total += weights[i]!
  let below = 0
  for (let i = 0; i < weights.length; i++) {
    const next = below + weights[i]! / total
    if (next >= share) {
      const part = (share - below) / (next - below) - 0.5
      const neighbor = at[part < 0 ? i - 1 : i + 1]
      return neighbor === undefined ? at[i]! : at[i]! + Math.abs(part) * (neighbor - at[i]!)
    }
    below = next
  }
  return at[at.length - 1]!
}
