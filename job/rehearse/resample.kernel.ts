/**
 * Windowed-sinc interpolation at positions first + j · step (in samples of the input), for every j of `out`. Values before
 * the first and after the last sample are taken as those samples. `table` is the right half of the kernel, `perSample`
 * points a sample (linear between them), `reach` its half length in samples; each output is divided by its weights' sum.
 */
export interface SincPlan {
  readonly table: Float64Array
  readonly perSample: number
  readonly reach: number
  readonly step: number
}

export function sincInterpolate(input: Float64Array, plan: SincPlan, out: Float64Array): void {
  const { table, perSample, reach, step } = plan
  const last = input.length - 1
  for (let j = 0; j < out.length; j++) {
    const at = j * step
    const from = Math.ceil(at - reach)
    const to = Math.floor(at + reach)
    let sum = 0
    let weights = 0
    for (let i = from; i <= to; i++) {
      const distance = Math.abs(at - i) * perSample
      const k = Math.floor(distance)
      const a = table[k]!
      const weight = a + (distance - k) * (table[k + 1]! - a)
      sum += weight * input[Math.min(Math.max(i, 0), last)]!
      weights += weight
    }
    out[j] = sum / weights
  }
}
