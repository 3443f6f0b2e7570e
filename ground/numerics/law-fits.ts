import type { Result } from '../refusal/index.ts'
import { type NumericsCode, refuse } from './codes.ts'
import { normalSurvival, normalUpperQuantile } from './distribution.ts'
import { exp, expm1, log, log1p, pow } from './elementary.ts'
import { digamma, logGamma } from './gamma.ts'
import { gammaPlace, gammaShares } from './incomplete.ts'
import { noncentralTQuantile } from './noncentral.ts'
import { rootBetween } from './root.ts'

/** Laws that readings without a flaw may follow; 'gumbel' is that of largest values. */
export const laws = ['normal', 'log-normal', 'weibull', 'gamma', 'gumbel', 'exponential'] as const

export type Law = (typeof laws)[number]

export interface LawFit {
  readonly law: Law
  /** normal, log-normal: mean and standard deviation (of the logarithm), divided by n; weibull: shape, scale; gamma: shape, rate; gumbel: place, scale; exponential: mean */
  readonly parameters: readonly number[]
  readonly logLikelihood: number
  /** 2 (number of parameters) - 2 logLikelihood */
  readonly aic: number
}

const HALF_LOG_TAU = 0.9189385332046728
const LEAST = 3

/**
 * A law by maximum likelihood.
 * Refuses: numerics/too-few-points (fewer than 3), numerics/degenerate (all equal, or not finite), numerics/not-positive
 * (a value not above zero, for all but 'normal' and 'gumbel'). source: johnson-kotz-1994
 */
export function fitLaw(law: Law, values: ArrayLike<number>): Result<LawFit, NumericsCode> {
  const sample = Array.from(values)
  const flaw = flawOf(law, sample)
  if (flaw !== undefined) return flaw
  const { parameters, logLikelihood } = fits[law](sample)
  return { law, parameters, logLikelihood, aic: 2 * parameters.length - 2 * logLikelihood }
}

function flawOf(law: Law, sample: readonly number[]): Result<never, NumericsCode> | undefined {
  if (sample.length < LEAST) return refusal('numerics/too-few-points', `${sample.length} values`, `${LEAST} or more`)
  if (!sample.every(Number.isFinite)) return refusal('numerics/degenerate', 'a value that is none', 'finite values')
  if (sample.every((value) => value === sample[0]))
    return refusal('numerics/degenerate', `${sample.length} equal values`, 'values that scatter')
  const wrong = sample.find((value) => !(value > 0))
  if (wrong === undefined || law === 'normal' || law === 'gumbel') return undefined
  return refusal('numerics/not-positive', `a value of ${wrong}`, `values above zero for the law '${law}'`)
}

const refusal = (code: NumericsCode, found: string, needed: string): Result<never, NumericsCode> =>
  refuse(code, { found, needed, remedy: 'look at how these values were recorded' })

type Fitted = Pick<LawFit, 'parameters' | 'logLikelihood'>

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0)
const average = (values: readonly number[]): number => sum(values) / values.length

function normalFit(sample: readonly number[]): Fitted {
  const mean = average(sample)
  const deviation = Math.sqrt(average(sample.map((value) => (value - mean) * (value - mean))))
  const logLikelihood = -sample.length * (log(deviation) + HALF_LOG_TAU + 0.5)
  return { parameters: [mean, deviation], logLikelihood }
}

function logNormalFit(sample: readonly number[]): Fitted {
  const logs = sample.map(log)
  const { parameters, logLikelihood } = normalFit(logs)
  return { parameters, logLikelihood: logLikelihood - sum(logs) }
}

/** The shape k is the root of sum z^k log z/sum z^k - 1/k - mean log z, which rises with k. */
function weibullFit(sample: readonly number[]): Fitted {
  const most = sample.reduce((a, b) => Math.max(a, b))
  const logs = sample.map((value) => log(value / most))
  const excess = (k: number): number => {
    const powers = logs.map((l) => exp(k * l))
    return sum(powers.map((p, i) => p * logs[i]!)) / sum(powers) - 1 / k - average(logs)
  }
  const shape = rootBetween(excess, rising(excess))
  const scale = most * pow(average(logs.map((l) => exp(shape * l))), 1 / shape)
  const n = sample.length
  const logLikelihood = n * (log(shape) - log(scale) - 1) + (shape - 1) * (sum(logs) + n * log(most / scale))
  return { parameters: [shape, scale], logLikelihood }
}

/** The shape a is the root of digamma(a) - log a + log mean - mean log. */
function gammaFit(sample: readonly number[]): Fitted {
  const mean = average(sample)
  const gap = log(mean) - average(sample.map(log))
  const excess = (a: number): number => digamma(a) - log(a) + gap
  const shape = rootBetween(excess, rising(excess))
  const rate = shape / mean
  const each = shape * log(rate) - logGamma(shape) + (shape - 1) * average(sample.map(log)) - shape
  return { parameters: [shape, rate], logLikelihood: sample.length * each }
}

/** The scale b is the root of b - mean + sum z e^(-z/b)/sum e^(-z/b), which rises with b. */
function gumbelFit(sample: readonly number[]): Fitted {
  const least = sample.reduce((a, b) => Math.min(a, b))
  const away = sample.map((value) => value - least)
  const excess = (b: number): number => {
    const weights = away.map((value) => exp(-value / b))
    return b - average(away) + sum(away.map((value, i) => value * weights[i]!)) / sum(weights)
  }
  const scale = rootBetween(excess, rising(excess))
  const place = least - scale * log(average(away.map((value) => exp(-value / scale))))
  const terms = sample.map((value) => (value - place) / scale + exp(-(value - place) / scale))
  return { parameters: [place, scale], logLikelihood: -sum(terms) - sample.length * log(scale) }
}

function exponentialFit(sample: readonly number[]): Fitted {
  const mean = average(sample)
  return { parameters: [mean], logLikelihood: -sample.length * (log(mean) + 1) }
}

/** A bracket of the positive root of a function that rises through zero. */
function rising(f: (x: number) => number): { readonly low: number; readonly high: number } {
  let [low, high] = [1, 1]
  while (f(low) > 0 && low > 1e-300) low *= 0.25
  while (f(high) < 0 && high < 1e300) high *= 4
  return { low, high }
}

const fits: Readonly<Record<Law, (sample: readonly number[]) => Fitted>> = {
  normal: normalFit,
  'log-normal': logNormalFit,
  weibull: weibullFit,
  gamma: gammaFit,
  gumbel: gumbelFit,
  exponential: exponentialFit
}

interface Tails {
  /** chance of more than x */
  readonly above: (x: number) => number
  /** x with that chance above it */
  readonly place: (chance: number) => number
}

function tailsOf({ law, parameters }: LawFit): Tails {
  const [p, q] = [parameters[0]!, parameters[1] ?? 1]
  const tails: Readonly<Record<Law, Tails>> = {
    normal: { above: (x) => normalSurvival((x - p) / q), place: (c) => p + q * normalUpperQuantile(c) },
    'log-normal': {
      above: (x) => (x > 0 ? normalSurvival((log(x) - p) / q) : 1),
      place: (c) => exp(p + q * normalUpperQuantile(c))
    },
    weibull: { above: (x) => (x > 0 ? exp(-pow(x / q, p)) : 1), place: (c) => q * pow(-log(c), 1 / p) },
    gamma: {
      above: (x) => gammaShares(p, Math.max(0, x) * q).upper,
      place: (c) => gammaPlace(p, { tail: 'upper', share: c }) / q
    },
    gumbel: { above: (x) => -expm1(-exp(-(x - p) / q)), place: (c) => p - q * log(-log1p(-c)) },
    exponential: { above: (x) => (x > 0 ? exp(-x / p) : 1), place: (c) => -p * log(c) }
  }
  return tails[law]
}

/** Chance of a reading above x. */
export const chanceAbove = (fit: LawFit, x: number): number => tailsOf(fit).above(x)

/** The reading that is passed with a chance in (0, 1); RangeError outside. */
export function placeAbove(fit: LawFit, chance: number): number {
  if (!(chance > 0 && chance < 1)) throw new RangeError(`a chance lies in (0, 1), not at ${chance}`)
  return tailsOf(fit).place(chance)
}

/**
 * Upper bound of `placeAbove` for a normal or log-normal law, one-sided: mean + k s, s with n - 1,
 * k = t'(n - 1, z sqrt(n))/sqrt(n), z the normal quantile of the chance, t' of the non-central t. source: owen-1968
 */
export function placeAboveBound(
  { law, parameters }: LawFit,
  { chance, confidence, count }: { readonly chance: number; readonly confidence: number; readonly count: number }
): number {
  if (law !== 'normal' && law !== 'log-normal') throw new RangeError(`no exact bound for the law '${law}'`)
  const root = Math.sqrt(count)
  const shift = normalUpperQuantile(chance) * root
  const k = noncentralTQuantile({ tail: 'lower', share: confidence }, { dof: count - 1, shift }) / root
  const bound = parameters[0]! + k * parameters[1]! * Math.sqrt(count / (count - 1))
  return law === 'normal' ? bound : exp(bound)
}
