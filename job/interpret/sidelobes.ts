import type { Candidate } from './candidates.ts'

/**
 * What the matched output shows around a flaw: the banded pulse of a point-like flaw against the matched weights, all
 * round one unit, `[512]`, 1 in the middle (element 256). Its ringing beyond the form itself is the band's.
 */
export function selfAnswer(weights: Float64Array, pulse: Float64Array): Float64Array {
  const n = pulse.length
  const half = (weights.length - 1) / 2
  const out = new Float64Array(n)
  for (let i = 0; i < n; i++) {
    let sum = 0
    for (let k = -half; k <= half; k++) sum += weights[k + half]! * pulse[(i + k + n) % n]!
    out[i] = sum
  }
  const middle = out[n / 2]!
  return out.map((value) => value / middle)
}

export interface SideLobeRule {
  readonly answer: Float64Array
  readonly unit: number
  /** noise of the matched output */
  readonly noise: number
}

/** A side lobe may be this much stronger than the notch's own form predicts: a crack's form is not the notch's. */
const FREEDOM = 1.5
/** Points by which a side lobe may lie beside its predicted place. */
const SHIFT = 8

/** The stronger candidate of which `one` is a side lobe, if any. */
export function mainOf(one: Candidate, stronger: readonly Candidate[], rule: SideLobeRule): Candidate | undefined {
  return stronger.find((main) => main.matched > one.matched && isSideLobe(one, main, rule))
}

function isSideLobe(one: Candidate, main: Candidate, { answer, unit, noise }: SideLobeRule): boolean {
  const shift = one.peak - main.peak - unit * Math.round((one.peak - main.peak) / unit)
  const here = main.rows.reduce(
    (most, row) => (Math.abs(row.at + shift - one.peak) < unit ? Math.max(most, row.matched) : most),
    0
  )
  let predicted = 0
  for (let k = -SHIFT; k <= SHIFT; k++) {
    const at = (unit / 2 + Math.round(shift) + k + unit) % unit
    const value = answer[at]! * main.sign
    predicted = Math.max(predicted, value * one.sign)
  }
  return one.matched <= here * FREEDOM * predicted + 3 * noise
}
