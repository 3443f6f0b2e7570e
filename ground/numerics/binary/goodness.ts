import { isRefusal, type Result } from '../../refusal/index.ts'
import { type NumericsCode, refuse } from '../codes.ts'
import { exp, log } from '../elementary.ts'
import { chiSquareSurvival } from '../sampling.ts'
import { climb } from './climb.ts'
import { type Summed, summedAt } from './condense.kernel.ts'
import { type BinaryFit, standardized } from './fit.ts'
import { type LinkLaw, lawOf } from './links.ts'
import { columnSums } from './sums.kernel.ts'

/** A statistic with the chance of one as large or larger, were the model true. */
export interface FitTest {
  readonly statistic: number
  readonly dof: number
  readonly p: number
}

/** Logarithms of the chances of a hit and of a miss at each place of a fit. */
function chancesOf({
  link,
  intercept,
  slope,
  tally
}: BinaryFit): readonly { readonly hit: number; readonly miss: number }[] {
  const law: LinkLaw = lawOf(link)
  const term = { log: 0, first: 0, second: 0 }
  return Array.from(tally.x, (x) => {
    law.hit(intercept + slope * x, term)
    const hit = term.log
    law.miss(intercept + slope * x, term)
    return { hit, miss: term.log }
  })
}

/** -2 l + 4: two coefficients. Between fits of the same data a difference below 2 prefers none. source: akaike-1974 */
export const akaike = ({ logLikelihood }: BinaryFit): number => 4 - 2 * logLikelihood

/**
 * Deviance and Pearson chi-square over the places, places - 2 degrees of freedom. A test of fit only where every place
 * has several trials; with one trial a place the deviance says nothing of the fit.
 * Refuses: numerics/too-few-points (fewer than 3 places). source: mccullagh-nelder-1989, 4.4.3, 4.4.5
 */
export function placesTest(
  fit: BinaryFit
): Result<{ readonly deviance: FitTest; readonly pearson: FitTest }, NumericsCode> {
  const { hits, misses } = fit.tally
  const dof = hits.length - 2
  if (dof < 1) return tooFew(`${hits.length} places`, '3 places or more')
  const chances = chancesOf(fit)
  const part = (count: number, of: number, chance: number): number =>
    count > 0 ? count * (log(count / of) - chance) : 0
  const deviance = chances.reduce((sum, { hit, miss }, i) => {
    const of = hits[i]! + misses[i]!
    return sum + 2 * (part(hits[i]!, of, hit) + part(misses[i]!, of, miss))
  }, 0)
  const pearson = chances.reduce((sum, { hit, miss }, i) => {
    const away = hits[i]! * exp(miss) - misses[i]! * exp(hit)
    return sum + squareOver(away, (hits[i]! + misses[i]!) * exp(hit + miss))
  }, 0)
  return { deviance: tested(deviance, dof), pearson: tested(pearson, dof) }
}

/** Both vanish where the curve is at its end and no trial contradicts it. */
const squareOver = (away: number, variance: number): number => (away === 0 ? 0 : (away * away) / variance)

const tested = (statistic: number, dof: number): FitTest => ({ statistic, dof, p: chiSquareSurvival(statistic, dof) })

/**
 * Hosmer and Lemeshow: trials by rising fitted chance, cut after floor(k n/groups + 1/2); sum of
 * (hits - expected)^2/(expected (1 - expected/n)), groups - 2 degrees of freedom. The trials of one place that a cut
 * goes through are shared out in proportion, so that their order doesn't matter.
 * Refuses: numerics/too-few-points (fewer trials than 5 a group, or fewer than 3 groups). source: hosmer-lemeshow-2000, 5.2.2
 */
export function decilesTest(fit: BinaryFit, groups: number): Result<FitTest, NumericsCode> {
  const { hits, misses, trials } = fit.tally
  if (groups < 3 || trials < 5 * groups)
    return tooFew(`${trials} trials in ${groups} groups`, '3 groups or more, of 5 trials')
  const chances = chancesOf(fit)
  const places = chances.map(({ hit, miss }, i) => ({ hits: hits[i]!, misses: misses[i]!, p: exp(hit), q: exp(miss) }))
  const rising = fit.slope < 0 ? places.reverse() : places
  const statistic = dealt(rising, groups).reduce(
    (sum, { away, expected, rest, of }) => sum + squareOver(away, (expected * rest) / of),
    0
  )
  return tested(statistic, groups - 2)
}

interface Place {
  readonly hits: number
  readonly misses: number
  /** fitted chances of a hit and of a miss, each with its own digits */
  readonly p: number
  readonly q: number
}

interface Dealt {
  of: number
  /** hits less those expected */
  away: number
  expected: number
  /** expected misses */
  rest: number
}

function dealt(places: readonly Place[], groups: number): readonly Dealt[] {
  const total = places.reduce((sum, { hits, misses }) => sum + hits + misses, 0)
  const all = Array.from({ length: groups }, (): Dealt => ({ of: 0, away: 0, expected: 0, rest: 0 }))
  let group = 0
  let before = 0
  for (const { hits, misses, p, q } of places)
    for (let left = hits + misses; left > 0; ) {
      const cut = Math.floor(((group + 1) * total) / groups + 0.5)
      const part = Math.min(left, cut - before)
      const into = all[group]!
      into.of += part
      into.away += ((hits * q - misses * p) * part) / (hits + misses)
      into.expected += p * part
      into.rest += q * part
      left -= part
      before += part
      if (before === cut && group < groups - 1) group++
    }
  return all
}

/**
 * Likelihood ratio of a term in x^2, one degree of freedom: whether a straight predictor is enough.
 * Refuses: numerics/too-few-points (fewer than 4 places), numerics/not-converged. source: hosmer-lemeshow-2000, 4.2
 */
export function bendTest(fit: BinaryFit): Result<FitTest, NumericsCode> {
  const { z } = fit.tally
  if (z.length < 4) return tooFew(`${z.length} places`, '4 places or more')
  const law = lawOf(fit.link)
  const [first, last] = [z[0]!, z.at(-1)!]
  const rows = bentColumns(fit.tally)
  const few = fit.tally.condensed === undefined ? rows : bentColumns(fit.tally.condensed)
  const at = (theta: Float64Array) => {
    const steepness = Math.max(...[first, last].map((end) => Math.abs(theta[1]! + 2 * theta[2]! * end)))
    return columnSums(law, summedAt(fit.tally, steepness) === fit.tally ? rows : few, theta)
  }
  const top = climb({ start: Float64Array.of(...standardized(fit).b, 0), at, within: 1e-9 })
  return isRefusal(top) ? top : tested(Math.max(0, 2 * (top.height.value - fit.logLikelihood)), 1)
}

const bentColumns = ({ z, hits, misses }: Summed) => ({
  columns: [z.map(() => 1), z, z.map((value) => value * value - 1)],
  hits,
  misses
})

function tooFew(found: string, needed: string): Result<never, NumericsCode> {
  return refuse('numerics/too-few-points', {
    found,
    needed,
    remedy: 'look at the hits and misses beside the curve instead'
  })
}
