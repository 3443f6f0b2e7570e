/** Largest minus smallest value within `window` samples, by the sample in their middle; 0 where the window does not fit. */
export function swings(values: Float64Array, window: number): Float64Array {
  const out = new Float64Array(values.length)
  const most = new Int32Array(values.length)
  const least = new Int32Array(values.length)
  let [mostFrom, mostTo, leastFrom, leastTo] = [0, 0, 0, 0]
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!
    while (mostTo > mostFrom && values[most[mostTo - 1]!]! <= value) mostTo--
    most[mostTo++] = i
    while (leastTo > leastFrom && values[least[leastTo - 1]!]! >= value) leastTo--
    least[leastTo++] = i
    const first = i - window + 1
    if (most[mostFrom]! < first) mostFrom++
    if (least[leastFrom]! < first) leastFrom++
    if (first >= 0) out[first + (window >> 1)] = values[most[mostFrom]!]! - values[least[leastFrom]!]!
  }
  return out
}
