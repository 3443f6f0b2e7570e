import { isRefusal, type Result } from '../../refusal/index.ts'
import { type NumericsCode, refuse } from '../codes.ts'
import { exp, log, TAU } from '../elementary.ts'
import { type HermiteRule, hermiteRule } from '../hermite.ts'
import { climb, type Height } from './climb.ts'
import { fitBinary } from './fit.ts'
import { type Link, lawOf, linkShare, type Term } from './links.ts'
import type { BinaryRows } from './tally.ts'
import { tallyOf } from './tally.ts'

/** One curve whose height differs from group to group by a normal law: eta = intercept + slope x + sigma v. */
export interface AmongFit {
  readonly link: Link
  readonly intercept: number
  readonly slope: number
  /** standard deviation of the heights among groups */
  readonly sigma: number
  readonly logLikelihood: number
  /** most likely height of each group less the intercept, in the order given */
  readonly heights: readonly number[]
  readonly steps: number
}

const NODES = 25
const WITHIN = 1e-8
const DIFFERENCE = 1e-5
const START_SIGMA = 0.5

/**
 * Groups of one curve by maximum likelihood, each group's height integrated over by 25 Gauss-Hermite nodes that are set
 * about its most likely value. Groups stand for a population: with fewer than five its sigma is hardly known.
 * Where they differ no more than by chance, sigma comes out next to 0. Refuses: numerics/too-few-points (fewer than 2
 * groups), numerics/not-converged, and as `fitBinary` for all rows together. source: pinheiro-bates-1995, 2.4
 */
export function fitAmong(groups: readonly BinaryRows[], link: Link): Result<AmongFit, NumericsCode> {
  if (groups.length < 2) return tooFew(groups.length)
  const pooled = tallyOf(joined(groups))
  if (isRefusal(pooled)) return pooled
  const plain = fitBinary(pooled, { link, estimate: 'likelihood' })
  if (isRefusal(plain)) return plain
  const { mean, scale } = pooled
  const work = { link, rule: hermiteRule(NODES), groups: groups.map((rows) => standardized(rows, mean, scale)) }
  const start = Float64Array.of(plain.intercept + plain.slope * mean, plain.slope * scale, log(START_SIGMA))
  const top = climb({ start, at: (theta) => curved(work, theta), within: WITHIN })
  if (isRefusal(top)) return top
  const [b0, b1, logSigma] = top.place as unknown as readonly [number, number, number]
  const sigma = exp(logSigma)
  return {
    ...{ link, intercept: b0 - (b1 * mean) / scale, slope: b1 / scale, sigma, logLikelihood: top.height.value },
    ...{ heights: work.groups.map((rows) => sigma * modeOf(rows, link, top.place).v), steps: top.steps }
  }
}

/** Chance of a hit at x over all groups: the integral of F(intercept + slope x + sigma v) over the normal law of v. */
export function shareAmong({ link, intercept, slope, sigma }: AmongFit, x: number): number {
  const { nodes, weights } = hermiteRule(NODES)
  const eta = intercept + slope * x
  const sum = nodes.reduce(
    (total, t, k) => total + weights[k]! * exp(-t * t) * linkShare(link, eta + Math.SQRT2 * sigma * t),
    0
  )
  return sum / Math.sqrt(0.5 * TAU)
}

/** The x at which the chance over all groups reaches a share, by halving; for a slope above 0. Throws RangeError else. */
export function placeAmong(fit: AmongFit, share: number): number {
  if (!(fit.slope > 0 && share > 0 && share < 1))
    throw new RangeError(`no place of ${share} on a slope of ${fit.slope}`)
  const middle = -fit.intercept / fit.slope
  let step = 1 / fit.slope
  while (shareAmong(fit, middle - step) > share || shareAmong(fit, middle + step) < share) step *= 2
  let [low, high] = [middle - step, middle + step]
  for (let i = 0; i < 100 && high - low > 1e-14 * step; i++) {
    const at = 0.5 * (low + high)
    if (shareAmong(fit, at) < share) low = at
    else high = at
  }
  return 0.5 * (low + high)
}

interface Rows {
  readonly z: Float64Array
  readonly hits: Float64Array
  readonly misses: Float64Array
}

interface Work {
  readonly link: Link
  readonly rule: HermiteRule
  readonly groups: readonly Rows[]
}

const standardized = ({ x, hits, trials }: BinaryRows, mean: number, scale: number): Rows => ({
  z: Float64Array.from(x, (value) => (value - mean) / scale),
  hits: Float64Array.from(hits),
  misses: Float64Array.from(hits, (count, i) => trials[i]! - count)
})

const joined = (groups: readonly BinaryRows[]): BinaryRows => ({
  x: groups.flatMap(({ x }) => Array.from(x)),
  hits: groups.flatMap(({ hits }) => Array.from(hits)),
  trials: groups.flatMap(({ trials }) => Array.from(trials))
})

/** Of one group at one height: log-likelihood, score summed and summed with z, negative curvature. */
interface AtHeight {
  readonly value: number
  readonly u0: number
  readonly u1: number
  readonly h: number
}

function atHeight({ z, hits, misses }: Rows, link: Link, [b0, b1]: readonly [number, number]): AtHeight {
  const { hit, miss } = lawOf(link)
  const term: Term = { log: 0, first: 0, second: 0 }
  let [value, u0, u1, h] = [0, 0, 0, 0]
  const add = (count: number, at: number): void => {
    value += count * term.log
    u0 += count * term.first
    u1 += count * term.first * at
    h -= count * term.second
  }
  for (let i = 0; i < z.length; i++) {
    const eta = b0 + b1 * z[i]!
    hit(eta, term)
    if (hits[i]! > 0) add(hits[i]!, z[i]!)
    miss(eta, term)
    if (misses[i]! > 0) add(misses[i]!, z[i]!)
  }
  return { value, u0, u1, h }
}

/** v with the largest likelihood times its normal density, and the curvature there; concave, by Newton steps. */
function modeOf(rows: Rows, link: Link, theta: Float64Array): { readonly v: number; readonly curvature: number } {
  const [b0, b1, logSigma] = theta as unknown as readonly [number, number, number]
  const sigma = exp(logSigma)
  let v = 0
  let curvature = 1
  for (let i = 0; i < 100; i++) {
    const { u0, h } = atHeight(rows, link, [b0 + sigma * v, b1])
    curvature = sigma * sigma * h + 1
    const step = (sigma * u0 - v) / curvature
    v += Math.abs(step) > 2 ? 2 * Math.sign(step) : step
    if (Math.abs(step) < 1e-12) break
  }
  return { v, curvature }
}

/** Log of one group's integral and its gradient over (b0, b1, ln sigma): the scores weighted by the integrand. */
function integral(rows: Rows, { link, rule }: Work, theta: Float64Array) {
  const [b0, b1, logSigma] = theta as unknown as readonly [number, number, number]
  const sigma = exp(logSigma)
  const { v: mode, curvature } = modeOf(rows, link, theta)
  const spread = Math.SQRT2 / Math.sqrt(curvature)
  const top = atHeight(rows, link, [b0 + sigma * mode, b1]).value - 0.5 * mode * mode
  let sum = 0
  const gradient = new Float64Array(3)
  for (const [k, t] of rule.nodes.entries()) {
    const v = mode + spread * t
    const { value, u0, u1 } = atHeight(rows, link, [b0 + sigma * v, b1])
    const weight = rule.weights[k]! * exp(value - 0.5 * v * v - top)
    sum += weight
    gradient[0]! += weight * u0
    gradient[1]! += weight * u1
    gradient[2]! += weight * u0 * sigma * v
  }
  return { value: top + log((sum * spread) / Math.sqrt(TAU)), gradient: gradient.map((part) => part / sum) }
}

function total(work: Work, theta: Float64Array) {
  const parts = work.groups.map((rows) => integral(rows, work, theta))
  const value = parts.reduce((sum, part) => sum + part.value, 0)
  const gradient = Float64Array.from([0, 1, 2], (i) => parts.reduce((sum, part) => sum + part.gradient[i]!, 0))
  return { value, gradient }
}

/** With the curvature by central differences of the gradient. */
function curved(work: Work, theta: Float64Array): Height {
  const moved = (k: number, by: number) =>
    total(
      work,
      theta.map((value, i) => (i === k ? value + by : value))
    ).gradient
  const columns = [0, 1, 2].map((k) => {
    const [ahead, behind] = [moved(k, DIFFERENCE), moved(k, -DIFFERENCE)]
    return ahead.map((value, i) => (behind[i]! - value) / (2 * DIFFERENCE))
  })
  const curvature = Float64Array.from({ length: 9 }, (_, at) => {
    const [row, column] = [Math.floor(at / 3), at % 3]
    return 0.5 * (columns[row]![column]! + columns[column]![row]!)
  })
  return { ...total(work, theta), curvature }
}

const tooFew = (count: number): Result<never, NumericsCode> =>
  refuse('numerics/too-few-points', {
    found: `${count} groups`,
    needed: '2 groups or more, and five to say much of a population',
    remedy: 'state the curve of the group alone'
  })
