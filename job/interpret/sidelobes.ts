/**
 * What the fit of a shape shows around a flaw: the banded pulse of a point-like flaw against the shape, all round one
 * revolution, `[512]`, 1 in the middle (element 256). Its ringing beyond the shape itself is the band's.
 */
export function selfAnswer(shape: Float64Array, pulse: Float64Array): Float64Array {
  const n = pulse.length
  const half = (shape.length - 1) / 2
  const out = new Float64Array(n)
  for (let i = 0; i < n; i++) {
    let sum = 0
    for (let k = -half; k <= half; k++) sum += shape[k + half]! * pulse[(i + k + n) % n]!
    out[i] = sum
  }
  const middle = out[n / 2]!
  return out.map((value) => value / middle)
}
