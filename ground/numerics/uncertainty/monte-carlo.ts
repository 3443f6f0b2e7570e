import { isRefusal, type Result } from '../../refusal/index.ts'
import { type NumericsCode, refuse } from '../codes.ts'
import { normalQuantile } from '../distribution.ts'
import { log10, pow } from '../elementary.ts'
import { choleskyFactor } from '../solve.ts'
import { correlationMatrix, type Draws, drawn, inputFlaw, type Measurement } from './inputs.ts'
import type { Propagation } from './propagation.ts'

/** Nothing has a default: each alters the interval or when the draws end. */
export interface Trials {
  readonly confidence: number
  /** significant digits of the standard uncertainty that shall hold: 1 or 2 */
  readonly digits: 1 | 2
  readonly batch: number
  readonly fewestBatches: number
  readonly mostBatches: number
}

interface Ends {
  readonly lower: number
  readonly upper: number
}

export interface MonteCarlo {
  readonly trials: number
  readonly mean: number
  readonly uncertainty: number
  /** as much beyond each end */
  readonly symmetric: Ends
  /** the shortest with that share */
  readonly shortest: Ends
  /** half of the last digit that shall hold */
  readonly tolerance: number
  /** two standard errors of mean, uncertainty and both ends, from batch to batch */
  readonly unrest: {
    readonly mean: number
    readonly uncertainty: number
    readonly lower: number
    readonly upper: number
  }
  /** all of `unrest` below the tolerance */
  readonly isSettled: boolean
  /** the first draws as they came: by them a run is told again */
  readonly first: readonly number[]
}

/**
 * Propagation of distributions by random draws in batches, until mean, uncertainty and ends hold to the digits asked or
 * the batches are used up (`isSettled` says which). Correlated inputs must be normal.
 * Refuses: numerics/degenerate (inputs that are none, correlated inputs that are not normal, a draw without a finite
 * result), numerics/not-positive-definite (correlations that contradict each other). Throws RangeError for a batch below
 * 100 or an interval with no draw outside it. source: jcgm101-2008, 7
 */
export function monteCarlo(measurement: Measurement, draws: Draws, asked: Trials): Result<MonteCarlo, NumericsCode> {
  checkTrials(asked)
  const draw = drawerOf(measurement, draws)
  if (isRefusal(draw)) return draw
  const batches: Float64Array[] = []
  const each: Batch[] = []
  while (batches.length < asked.mostBatches) {
    const batch = Float64Array.from({ length: asked.batch }, draw)
    if (!batch.every(Number.isFinite)) return noValue()
    batches.push(batch)
    each.push({ ...moments(batch), ...symmetricEnds(batch.toSorted(), asked.confidence) })
    if (batches.length < asked.fewestBatches) continue
    const { tolerance, unrest } = settling(each, asked)
    if (isBelow(unrest, tolerance)) break
  }
  return summaryOf(batches, each, asked)
}

function checkTrials({ confidence, batch, fewestBatches, mostBatches }: Trials): void {
  if (!(batch >= 100 && fewestBatches >= 2 && mostBatches >= fewestBatches))
    throw new RangeError('two batches or more of 100 draws or more are needed')
  if (!(confidence > 0 && confidence * batch < batch - 2))
    throw new RangeError(`no interval of ${confidence} in ${batch}`)
}

function drawerOf(measurement: Measurement, draws: Draws): Result<() => number, NumericsCode> {
  const flaw = inputFlaw(measurement)
  if (flaw !== undefined) return flaw
  const { inputs, correlations, model } = measurement
  if (correlations.every(({ r }) => r === 0)) return () => model(inputs.map((input) => drawn(input, draws)))
  const tied = inputs.filter(({ name }) => correlations.some(({ between }) => between.includes(name)))
  if (tied.some(({ law }) => law !== 'normal')) return notNormal()
  const n = inputs.length
  const factor = choleskyFactor({ size: n, values: correlationMatrix(measurement) })
  if (isRefusal(factor)) return factor
  return () => {
    const z = inputs.map(({ law }) => (law === 'normal' ? draws.normal() : 0))
    const values = inputs.map((input, i) => {
      if (input.law !== 'normal') return drawn(input, draws)
      let sum = 0
      for (let k = 0; k <= i; k++) sum += factor[i * n + k]! * z[k]!
      return input.value + input.uncertainty * sum
    })
    return model(values)
  }
}

interface Moments {
  readonly mean: number
  readonly uncertainty: number
}

function moments(values: Float64Array): Moments {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length
  const square = values.reduce((sum, value) => sum + (value - mean) * (value - mean), 0)
  return { mean, uncertainty: Math.sqrt(square / (values.length - 1)) }
}

/** Ends at the order statistics (M - q)/2 and (M + q)/2, q = round(share M), counted from one. source: jcgm101-2008, 7.7 */
function symmetricEnds(sorted: Float64Array, confidence: number): Ends {
  const inside = Math.round(confidence * sorted.length)
  const low = Math.max(1, Math.floor(0.5 * (sorted.length - inside + 1)))
  return { lower: sorted[low - 1]!, upper: sorted[low + inside - 1]! }
}

function shortestEnds(sorted: Float64Array, confidence: number): Ends {
  const inside = Math.round(confidence * sorted.length)
  let best = 0
  for (let i = 1; i + inside < sorted.length; i++)
    if (sorted[i + inside]! - sorted[i]! < sorted[best + inside]! - sorted[best]!) best = i
  return { lower: sorted[best]!, upper: sorted[best + inside]! }
}

type Batch = Moments & Ends

/** source: jcgm101-2008, 7.9.4 */
function settling(each: readonly Batch[], { digits, batch }: Trials): Pick<MonteCarlo, 'tolerance' | 'unrest'> {
  const error = (of: (one: Batch) => number): number =>
    (2 * moments(Float64Array.from(each, of)).uncertainty) / Math.sqrt(each.length)
  const uncertainty = pooled(each, batch)
  return {
    tolerance: uncertainty === 0 ? 0 : halfDigit(uncertainty, digits),
    unrest: {
      mean: error(({ mean }) => mean),
      uncertainty: error((one) => one.uncertainty),
      lower: error(({ lower }) => lower),
      upper: error(({ upper }) => upper)
    }
  }
}

/** Standard deviation of the draws of all batches, from those of each. */
function pooled(each: readonly Batch[], size: number): number {
  const mean = each.reduce((sum, one) => sum + one.mean, 0) / each.length
  const square = each.reduce(
    (sum, one) => sum + (size - 1) * one.uncertainty * one.uncertainty + size * (one.mean - mean) * (one.mean - mean),
    0
  )
  return Math.sqrt(square / (size * each.length - 1))
}

const isBelow = (unrest: MonteCarlo['unrest'], tolerance: number): boolean =>
  Object.values(unrest).every((value) => value <= tolerance)

function joined(batches: readonly Float64Array[]): Float64Array {
  const size = batches[0]!.length
  const all = new Float64Array(size * batches.length)
  for (const [i, batch] of batches.entries()) all.set(batch, i * size)
  return all
}

/** Half of the last of so many significant digits of u. source: jcgm101-2008, 7.9.2 */
export const halfDigit = (u: number, digits: 1 | 2): number => 0.5 * pow(10, Math.floor(log10(u)) - digits + 1)

function summaryOf(batches: readonly Float64Array[], each: readonly Batch[], asked: Trials): MonteCarlo {
  const all = joined(batches)
  const first = Array.from(all.subarray(0, 3))
  const { tolerance, unrest } = settling(each, asked)
  const { mean, uncertainty } = moments(all)
  const sorted = all.sort()
  return {
    trials: sorted.length,
    mean,
    uncertainty,
    symmetric: symmetricEnds(sorted, asked.confidence),
    shortest: shortestEnds(sorted, asked.confidence),
    tolerance,
    unrest,
    isSettled: isBelow(unrest, tolerance),
    first
  }
}

/**
 * Whether value -+ k u, k of the normal law, agrees with the symmetric interval by draws at both ends within the
 * tolerance: where not, the interval by draws is the one to state. source: jcgm101-2008, 8
 */
export function isPropagationValid(
  { value, combined }: Propagation,
  { symmetric, tolerance }: MonteCarlo,
  confidence: number
): boolean {
  const reach = normalQuantile(0.5 + 0.5 * confidence) * combined
  return (
    Math.abs(value - reach - symmetric.lower) <= tolerance && Math.abs(value + reach - symmetric.upper) <= tolerance
  )
}

const degenerate = (found: string, needed: string, remedy: string): Result<never, NumericsCode> =>
  refuse('numerics/degenerate', { found, needed, remedy })

const noValue = (): Result<never, NumericsCode> =>
  degenerate(
    'a draw for which the model has no finite value',
    'a model that holds for every value its inputs may take',
    'check the inputs: one may reach below zero'
  )

const notNormal = (): Result<never, NumericsCode> =>
  degenerate('a correlated input that is not normal', 'normal inputs where they are correlated', 'state it as normal')
