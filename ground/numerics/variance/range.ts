import { normalCumulative, normalDensity, normalSurvival } from '../distribution.ts'
import { exp, pow } from '../elementary.ts'

/** Of the range of m independent standard normal values. */
export interface RangeLaw {
  /** expected range, d2 */
  readonly mean: number
  /** root of the expected square, what one single range is divided by (d2* of one sample) */
  readonly rootMeanSquare: number
}

const STEP = 0.1
const FARTHEST = 90

/**
 * Both by the trapezoidal rule, which converges exponentially on them:
 * mean = ∫ 1 - Phi^m - (1 - Phi)^m, square = ∫ 2 r P(R > r) dr over log r, P(R <= r) = m ∫ phi(x) (Phi(x + r) - Phi(x))^(m - 1) dx.
 * Whole m from 2 to 1000; RangeError else. source: tippett-1925; trefethen-weideman-2014
 */
export function rangeLaw(m: number): RangeLaw {
  if (!(Number.isInteger(m) && m >= 2 && m <= 1000))
    throw new RangeError(`a range is that of 2 to 1000 values, not ${m}`)
  let mean = 0
  for (let k = -FARTHEST; k <= FARTHEST; k++) {
    const x = k * STEP
    mean += 1 - pow(normalCumulative(x), m) - pow(normalSurvival(x), m)
  }
  let square = 0
  for (let k = -180; k <= 30; k++) {
    const r = exp(k * STEP)
    square += 2 * r * r * (1 - shareWithin(r, m))
  }
  return { mean: mean * STEP, rootMeanSquare: Math.sqrt(square * STEP) }
}

function shareWithin(r: number, m: number): number {
  let sum = 0
  for (let k = -FARTHEST; k <= FARTHEST; k++) {
    const x = k * STEP
    const inside = normalCumulative(x + r) - normalCumulative(x)
    if (inside > 0) sum += normalDensity(x) * pow(inside, m - 1)
  }
  return m * STEP * sum
}
