import type { Result } from '../refusal/index.ts'
import type { Interval } from './binary/bounds.ts'
import { binomialLowerBound, binomialUpperBound } from './binomial.ts'
import { type NumericsCode, refuse } from './codes.ts'
import { normalCumulative, normalQuantile } from './distribution.ts'
import { exp } from './elementary.ts'

/** Signals of places that hold what is sought and of places that don't. The rule is: called if signal >= threshold. */
export interface TwoSamples {
  readonly flawed: ArrayLike<number>
  readonly blank: ArrayLike<number>
}

/** How well a signal tells the two apart, over all thresholds. */
export interface RocArea {
  /** chance that a flawed place has the larger signal; a tie counts one half */
  readonly area: number
  /** the count behind it, of pairs */
  readonly pairs: number
  readonly standardError: number
  /** ± z standard errors; may leave [0, 1] */
  readonly interval: Interval
  /** the same on the scale of log odds; undefined where the samples do not overlap (or only wrongly) */
  readonly logitInterval: Interval | undefined
  /** by the formula that presumes exponential signals; for comparison with others only */
  readonly hanleyMcNeil: number
}

/**
 * Area under the curve of hits over false calls, as the Mann-Whitney count of pairs, with the variance of its structural
 * components: var(V10)/flawed + var(V01)/blank. Signals of one flaw or one site read twice are not independent: then the
 * interval is too narrow. Refuses: numerics/too-few-points (fewer than two of either), numerics/degenerate (not a number).
 * Throws RangeError for a confidence outside (0, 1). source: delong-1988; hanley-mcneil-1982
 */
export function rocArea(samples: TwoSamples, confidence: number): Result<RocArea, NumericsCode> {
  if (!(confidence > 0 && confidence < 1)) throw new RangeError(`a confidence lies in (0, 1), not at ${confidence}`)
  const [flawed, blank] = [sorted(samples.flawed), sorted(samples.blank)]
  const flaw = samplesFlaw(flawed, blank)
  if (flaw !== undefined) return flaw
  const ofFlawed = flawed.map((value) => shareBelow(blank, value))
  const ofBlank = blank.map((value) => 1 - shareBelow(flawed, value))
  const area = mean(ofFlawed)
  const standardError = Math.sqrt(variance(ofFlawed) / flawed.length + variance(ofBlank) / blank.length)
  const z = normalQuantile(0.5 + 0.5 * confidence)
  return {
    ...{ area, pairs: area * flawed.length * blank.length, standardError },
    interval: { lower: area - z * standardError, upper: area + z * standardError },
    logitInterval: onLogit(area, z * standardError),
    hanleyMcNeil: exponentialError(area, flawed.length, blank.length)
  }
}

function onLogit(area: number, reach: number): Interval | undefined {
  if (!(area > 0 && area < 1)) return undefined
  const [odds, factor] = [area / (1 - area), exp(reach / area / (1 - area))]
  return { lower: odds / (odds + factor), upper: (odds * factor) / (1 + odds * factor) }
}

/** source: hanley-mcneil-1982, 2 */
function exponentialError(area: number, flawed: number, blank: number): number {
  const [one, two] = [area / (2 - area), (2 * area * area) / (1 + area)]
  const spread = (flawed - 1) * (one - area * area) + (blank - 1) * (two - area * area)
  return Math.sqrt((area * (1 - area) + spread) / flawed / blank)
}

/** What one threshold does. */
export interface OperatingPoint {
  readonly threshold: number
  readonly falseCalls: number
  readonly falseRate: number
  /** exact, one-sided */
  readonly falseUpper: number
  readonly hits: number
  readonly hitRate: number
  /** exact, one-sided */
  readonly hitLower: number
  /** hit rate less false rate (Youden) */
  readonly gained: number
}

/** Hits and false calls at given thresholds with one-sided exact bounds of each. Refuses as `rocArea`. source: clopper-pearson-1934 */
export function operatingPoints(
  samples: TwoSamples,
  thresholds: readonly number[],
  confidence: number
): Result<readonly OperatingPoint[], NumericsCode> {
  const [flawed, blank] = [sorted(samples.flawed), sorted(samples.blank)]
  const flaw = samplesFlaw(flawed, blank)
  if (flaw !== undefined) return flaw
  return thresholds.map((threshold) => {
    const hits = flawed.length - countBelow(flawed, threshold)
    const falseCalls = blank.length - countBelow(blank, threshold)
    const [hitRate, falseRate] = [hits / flawed.length, falseCalls / blank.length]
    return {
      ...{ threshold, falseCalls, falseRate, hits, hitRate, gained: hitRate - falseRate },
      falseUpper: binomialUpperBound({ successes: falseCalls, trials: blank.length }, confidence),
      hitLower: binomialLowerBound({ successes: hits, trials: flawed.length }, confidence)
    }
  })
}

/**
 * The lowest threshold, of the signals met, with the most hits less false calls (as rates). It is fitted to these samples:
 * on others it does worse. Refuses as `rocArea`. source: youden-1950
 */
export function youdenThreshold(
  samples: TwoSamples
): Result<Pick<OperatingPoint, 'threshold' | 'gained'>, NumericsCode> {
  const [flawed, blank] = [sorted(samples.flawed), sorted(samples.blank)]
  const flaw = samplesFlaw(flawed, blank)
  if (flaw !== undefined) return flaw
  const met = sorted([...new Set([...flawed, ...blank])])
  let best = { threshold: met[0]!, gained: 0 }
  for (const threshold of met) {
    const gained = countBelow(blank, threshold) / blank.length - countBelow(flawed, threshold) / flawed.length
    if (gained > best.gained) best = { threshold, gained }
  }
  return best
}

/** Two normal laws: hits = Phi(a + b Phi^-1(false calls)). */
export interface Binormal {
  /** difference of means over the deviation of the flawed */
  readonly a: number
  /** deviation of the blank over that of the flawed */
  readonly b: number
  readonly area: number
}

/**
 * The curve of two normal samples by their means and deviations (n - 1); give logarithms where the signals are log-normal.
 * Refuses: numerics/too-few-points, numerics/degenerate (also signals without scatter). source: dorfman-alf-1969
 */
export function binormal({ flawed, blank }: TwoSamples): Result<Binormal, NumericsCode> {
  const flaw = samplesFlaw(sorted(flawed), sorted(blank))
  if (flaw !== undefined) return flaw
  const [one, other] = [Float64Array.from(flawed), Float64Array.from(blank)]
  const [wide, narrow] = [Math.sqrt(variance(one)), Math.sqrt(variance(other))]
  if (!(wide > 0 && narrow > 0)) return noScatter()
  const [a, b] = [(mean(one) - mean(other)) / wide, narrow / wide]
  return { a, b, area: normalCumulative(a / Math.sqrt(1 + b * b)) }
}

/** Rate of hits where the rate of false calls is `falseRate`. */
export const binormalHits = ({ a, b }: Binormal, falseRate: number): number =>
  normalCumulative(a + b * normalQuantile(falseRate))

const sorted = (values: ArrayLike<number>): Float64Array => Float64Array.from(values).sort()

/** Of a rising column. */
function countBelow(column: Float64Array, value: number, isCounted = (at: number) => at < value): number {
  let [low, high] = [0, column.length]
  while (low < high) {
    const middle = (low + high) >>> 1
    if (isCounted(column[middle]!)) low = middle + 1
    else high = middle
  }
  return low
}

/** Share of a rising column below a value, and half of what equals it. */
const shareBelow = (column: Float64Array, value: number): number =>
  (0.5 * (countBelow(column, value) + countBelow(column, value, (at) => at <= value))) / column.length

const mean = (values: Float64Array): number => values.reduce((sum, value) => sum + value, 0) / values.length

function variance(values: Float64Array): number {
  const center = mean(values)
  return values.reduce((sum, value) => sum + (value - center) * (value - center), 0) / (values.length - 1)
}

function samplesFlaw(flawed: Float64Array, blank: Float64Array): Result<never, NumericsCode> | undefined {
  if (flawed.length < 2 || blank.length < 2)
    return refuse('numerics/too-few-points', {
      found: `${flawed.length} flawed places and ${blank.length} blank ones`,
      needed: 'two or more of each',
      remedy: 'read more places'
    })
  if (flawed.every(Number.isFinite) && blank.every(Number.isFinite)) return undefined
  return refuse('numerics/degenerate', {
    found: 'a signal that is no finite number',
    needed: 'a signal from each place',
    remedy: 'leave the place out with its reason'
  })
}

function noScatter(): Result<never, NumericsCode> {
  return refuse('numerics/degenerate', {
    found: 'signals that are all alike',
    needed: 'signals that scatter, of flawed places and of blank ones',
    remedy: 'count pairs instead, or read more places'
  })
}
