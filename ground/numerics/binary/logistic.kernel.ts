import { twoTo } from '../elementary/exact.ts'
import { exp, log } from '../elementary.ts'

const STEPS = 64
const PER_STEP = STEPS / Math.LN2
const STEP_HIGH = 0.6931471803691238 / STEPS // 32 bits: a product with a count of steps is exact
const STEP_LOW = 1.9082149292705877e-10 / STEPS
/** 2^(-n/64) */
const TABLE = Float64Array.from(
  { length: 64 * STEPS },
  (_, n) => exp(-((n % STEPS) / STEPS) * Math.LN2) * twoTo(-Math.floor(n / STEPS))
)
const LAST = 44

/**
 * e^-t for t >= 0, within 2 units in the last place: for sums over many rows, where `exp` takes most of the time.
 * source: tang-1990
 */
export function decay(t: number): number {
  if (!(t < LAST)) return exp(-t)
  const n = Math.floor(t * PER_STEP + 0.5)
  const r = n * STEP_HIGH - t + n * STEP_LOW
  const square = r * r
  const rest = 0.5 + r * (1 / 6) + square * (1 / 24 + r * (1 / 120))
  return TABLE[n]! * (1 + (r + square * rest))
}

const PARTS = 64
const MIDDLE = Float64Array.from({ length: PARTS + 1 }, (_, j) => (j + 0.5) / PARTS)
const INVERSE = MIDDLE.map((at) => 1 / (1 + at))
const LOGARITHM = MIDDLE.map((at) => log(1 + at))

/** ln(1 + s) for 0 <= s <= 1, off by 2e-16 at most: for sums over many rows. source: tang-1990 */
export function logOfOneAnd(s: number): number {
  const j = Math.floor(s * PARTS)
  const f = (s - MIDDLE[j]!) * INVERSE[j]!
  const square = f * f
  const high = 1 / 5 - f * (1 / 6) + square * (1 / 7)
  return LOGARITHM[j]! + (f - square * (0.5 - f * (1 / 3 - f * (1 / 4 - f * high))))
}
