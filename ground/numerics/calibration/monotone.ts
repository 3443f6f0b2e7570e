import type { Result } from '../../refusal/index.ts'
import { type NumericsCode, refuse } from '../codes.ts'
import { hypot } from '../elementary.ts'
import type { Between } from '../root.ts'

/** A curve through knots that never falls: a cubic between each two of them. */
export interface MonotoneCurve {
  readonly x: Float64Array
  readonly y: Float64Array
  /** slopes in the knots */
  readonly slopes: Float64Array
}

/** Radius of the circle, and a little for rounding. */
const WITHIN = 3 + 1e-12

interface Knots {
  readonly x: ArrayLike<number>
  readonly y: ArrayLike<number>
}

/**
 * The cubic through knots whose slopes are the means of the neighboring secants, taken back where a piece would turn.
 * Refuses: numerics/too-few-points (fewer than two knots), numerics/not-rising (x that does not rise or y that falls).
 * source: fritsch-carlson-1980
 */
export function monotoneCurve({ x, y }: Knots): Result<MonotoneCurve, NumericsCode> {
  if (x.length !== y.length) throw new RangeError('the columns of a curve must have one length')
  if (x.length < 2) return tooFew(x.length)
  const secants = Float64Array.from({ length: x.length - 1 }, (_, i) => (y[i + 1]! - y[i]!) / (x[i + 1]! - x[i]!))
  const wrong = secants.findIndex((secant, i) => !(secant >= 0 && x[i + 1]! > x[i]!))
  if (wrong >= 0) return notRising(x[wrong + 1]!)
  const slopes = Float64Array.from(
    x,
    (_, i) => 0.5 * ((secants[i - 1] ?? secants[i])! + (secants[i] ?? secants[i - 1])!)
  )
  for (let round = 0; round <= secants.length; round++)
    if (!secants.reduce((isTamed, secant, k) => tame(slopes, secant, k) || isTamed, false)) break
  return { x: Float64Array.from(x), y: Float64Array.from(y), slopes }
}

/**
 * Onto the circle of radius 3 where the piece would not rise throughout; whether it had to be. A piece outside the circle
 * may still rise, but no longer once its neighbor's slope is taken back: hence again until all rise, which takes no more
 * rounds than there are pieces.
 * source: fritsch-carlson-1980, 4
 */
function tame(slopes: Float64Array, secant: number, k: number): boolean {
  const [first, last] = [slopes[k]! / secant, slopes[k + 1]! / secant]
  if (!Number.isFinite(first + last)) return level(slopes, k)
  const [left, right] = [2 * first + last - 3, first + 2 * last - 3]
  const length = hypot(first, last)
  if (left <= 0 || right <= 0 || length <= WITHIN) return false
  if (Math.max(first, last) <= 4 && first * (left + right) >= left * left) return false
  slopes[k]! *= 3 / length
  slopes[k + 1]! *= 3 / length
  return true
}

function level(slopes: Float64Array, k: number): boolean {
  const isNew = slopes[k] !== 0 || slopes[k + 1] !== 0
  slopes.fill(0, k, k + 2)
  return isNew
}

/** Value and slope at x. Refuses numerics/beyond-standards outside the knots. */
export function monotoneAt(
  curve: MonotoneCurve,
  at: number
): Result<{ readonly y: number; readonly slope: number }, NumericsCode> {
  const { x } = curve
  const last = x.length - 1
  if (!(at >= x[0]! && at <= x[last]!)) return beyond('a value', at, x)
  let k = 0
  while (k < last - 1 && x[k + 1]! <= at) k++
  return piece(curve, k, at)
}

function piece({ x, y, slopes }: MonotoneCurve, k: number, at: number) {
  const width = x[k + 1]! - x[k]!
  const t = (at - x[k]!) / width
  const rise = y[k + 1]! - y[k]!
  const [a, b] = [slopes[k]! * width, slopes[k + 1]! * width]
  const [square, cube] = [3 * rise - 2 * a - b, a + b - 2 * rise]
  return { y: y[k]! + t * (a + t * (square + t * cube)), slope: (a + t * (2 * square + 3 * t * cube)) / width }
}

/**
 * Where the curve has the value y, by bisection to rounding (common practice): from the first to the last such x. The two differ where the
 * curve is flat: then y does not tell x any better. Refuses numerics/beyond-standards.
 */
export function monotoneInverse(curve: MonotoneCurve, y: number): Result<Between, NumericsCode> {
  const last = curve.y.length - 1
  if (!(y >= curve.y[0]! && y <= curve.y[last]!)) return beyond('a reading', y, curve.y)
  const from = curve.y.findIndex((value) => value >= y)
  const to = curve.y.findLastIndex((value) => value <= y)
  return {
    low: curve.y[from] === y ? curve.x[from]! : within(curve, from - 1, y),
    high: curve.y[to] === y ? curve.x[to]! : within(curve, to, y)
  }
}

function within(curve: MonotoneCurve, k: number, y: number): number {
  let [low, high] = [curve.x[k]!, curve.x[k + 1]!]
  for (let middle = 0.5 * (low + high); middle > low && middle < high; middle = 0.5 * (low + high)) {
    if (piece(curve, k, middle).y < y) low = middle
    else high = middle
  }
  return high
}

function tooFew(knots: number): Result<never, NumericsCode> {
  return refuse('numerics/too-few-points', {
    found: `${knots} knots`,
    needed: 'at least two knots',
    remedy: 'take standards of at least two values'
  })
}

function notRising(at: number): Result<never, NumericsCode> {
  return refuse('numerics/not-rising', {
    found: `knots that fall, or do not go on, at ${at}`,
    needed: 'knots in rising order whose readings never fall',
    remedy: 'make them so by isotonic regression, and look at how far it moves the readings'
  })
}

function beyond(what: string, value: number, ends: Float64Array): Result<never, NumericsCode> {
  return refuse('numerics/beyond-standards', {
    found: `${what} of ${value}`,
    needed: `one from ${ends[0]} to ${ends.at(-1)}`,
    remedy: 'report it as below the smallest or above the largest standard, or calibrate with standards beyond it'
  })
}
