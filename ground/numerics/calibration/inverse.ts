import type { Result } from '../../refusal/index.ts'
import { type NumericsCode, refuse } from '../codes.ts'
import { fitLine, type LineFit } from '../line.ts'
import { studentQuantile } from '../sampling.ts'

/** Standards of known value x with their readings y. */
export interface Standards {
  readonly x: ArrayLike<number>
  readonly y: ArrayLike<number>
}

/** A straight calibration line with what inverse prediction needs. */
export interface Calibration extends LineFit {
  readonly count: number
  readonly mean: number
  /** sum of (x - mean)^2 */
  readonly spread: number
  readonly lowest: number
  readonly highest: number
}

/** How the unknown was read and what is asked. Nothing here has a default: each choice alters the interval. */
export interface InverseQuestion {
  /** readings of one unknown; for 'mean' the known mean response */
  readonly readings: readonly number[]
  /** 'reading': the readings scatter as the standards' do; 'mean': their mean is known without error */
  readonly of: 'reading' | 'mean'
  /** scatter from the line alone (n - 2 degrees of freedom), or pooled with that of the readings (n + m - 3) */
  readonly scatter: 'line' | 'pooled'
  /** two-sided, for instance 0.95 */
  readonly confidence: number
  /** 'within': an unknown outside the standards is refused */
  readonly range: 'within' | 'any'
}

/** Values of x that the readings do not contradict. */
export type InverseSet =
  | { readonly kind: 'interval'; readonly lower: number; readonly upper: number }
  /** all x up to `upTo` and all from `from`: the line does not bound the value */
  | { readonly kind: 'rays'; readonly upTo: number; readonly from: number }
  | { readonly kind: 'everything' }

export interface InversePrediction {
  readonly estimate: number
  /** Fieller's g = t^2 s^2/(slope^2 spread); 1 or more: the slope is not told from zero */
  readonly g: number
  readonly set: InverseSet
  /** by linear propagation (g = 0) */
  readonly standardError: number
  readonly propagated: { readonly lower: number; readonly upper: number }
  readonly sigma: number
  readonly dof: number
}

/** Least-squares line through standards. Refuses as `fitLine`. source: draper-smith-1998, 1.4 */
export function calibrate({ x, y }: Standards): Result<Calibration, NumericsCode> {
  const fit = fitLine({ x, y })
  if (!('slope' in fit)) return fit
  const values = Array.from(x)
  const mean = sum(values) / values.length
  const spread = sum(values.map((value) => (value - mean) * (value - mean)))
  const [lowest, highest] = [values.reduce((a, b) => Math.min(a, b)), values.reduce((a, b) => Math.max(a, b))]
  return { ...fit, count: values.length, mean, spread, lowest, highest }
}

/**
 * The value x of an unknown from its m readings, with the exact (Fieller) set
 * mean + [(estimate - mean) ± (t s/|slope|) sqrt((1/m + 1/n)(1 - g) + (estimate - mean)^2/spread)]/(1 - g),
 * for g >= 1 two rays or everything. Normal scatter of equal size along the line is taken for granted.
 * Refuses: numerics/degenerate (slope exactly zero), numerics/beyond-standards (estimate outside the standards' range
 * where that is asked). Throws RangeError without readings or for a confidence outside (0, 1).
 * source: draper-smith-1998, 3.2; greenwell-kabban-2014
 */
export function inversePrediction(line: Calibration, asked: InverseQuestion): Result<InversePrediction, NumericsCode> {
  checkQuestion(asked)
  const reading = sum(asked.readings) / asked.readings.length
  if (line.slope === 0) return flat()
  const estimate = (reading - line.intercept) / line.slope
  if (asked.range === 'within' && (estimate < line.lowest || estimate > line.highest)) return beyond(line, estimate)
  const { sigma, dof } = scatterOf(line, asked, reading)
  const t = studentQuantile(0.5 + 0.5 * asked.confidence, dof)
  const perLine = sigma / Math.abs(line.slope)
  const g = (t * t * perLine * perLine) / line.spread
  const fixed = (asked.of === 'mean' ? 0 : 1 / asked.readings.length) + 1 / line.count
  const away = estimate - line.mean
  const standardError = perLine * Math.sqrt(fixed + (away * away) / line.spread)
  const propagated = { lower: estimate - t * standardError, upper: estimate + t * standardError }
  const root = fixed * (1 - g) + (away * away) / line.spread
  const set = inverseSet({ ...line, away, g, root, reach: t * perLine })
  return { estimate, g, set, standardError, propagated, sigma, dof }
}

interface Quadratic {
  readonly mean: number
  readonly away: number
  readonly g: number
  /** under the square root */
  readonly root: number
  readonly reach: number
}

function inverseSet({ mean, away, g, root, reach }: Quadratic): InverseSet {
  if (g >= 1 && (root < 0 || g === 1)) return { kind: 'everything' }
  const half = reach * Math.sqrt(root)
  const first = mean + (away - half) / (1 - g)
  const second = mean + (away + half) / (1 - g)
  if (g > 1) return { kind: 'rays', upTo: Math.min(first, second), from: Math.max(first, second) }
  return { kind: 'interval', lower: first, upper: second }
}

/** s^2 = (RSS + sum (y0 - mean y0)^2)/(n + m - 3) where pooled. source: greenwell-kabban-2014 */
function scatterOf(
  { sigma, count }: Calibration,
  { readings, scatter }: InverseQuestion,
  reading: number
): { readonly sigma: number; readonly dof: number } {
  if (scatter === 'line') return { sigma, dof: count - 2 }
  const dof = count + readings.length - 3
  const within = sum(readings.map((y) => (y - reading) * (y - reading)))
  return { sigma: Math.sqrt((sigma * sigma * (count - 2) + within) / dof), dof }
}

export function checkQuestion({ readings, confidence }: Pick<InverseQuestion, 'readings' | 'confidence'>): void {
  if (readings.length === 0) throw new RangeError('an unknown has at least one reading')
  if (!(confidence > 0 && confidence < 1)) throw new RangeError(`a confidence lies in (0, 1), not at ${confidence}`)
}

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0)

function flat(): Result<never, NumericsCode> {
  return refuse('numerics/degenerate', {
    found: 'a calibration line without slope',
    needed: 'readings that change with the value of the standard',
    remedy: 'check the readings of the standards'
  })
}

function beyond({ lowest, highest }: Calibration, estimate: number): Result<never, NumericsCode> {
  return refuse('numerics/beyond-standards', {
    found: `a value of ${estimate}`,
    needed: `a value within the standards, ${lowest} to ${highest}`,
    remedy: 'report it as below the smallest or above the largest standard, or calibrate with standards beyond it'
  })
}
