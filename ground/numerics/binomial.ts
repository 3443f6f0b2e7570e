import { betaOdds, betaShares, checkShare, fromOdds, oddsOf } from './incomplete.ts'
import { binomialMass } from './mass.ts'

/** Successes among independent trials of one chance, whole numbers. */
export interface Trials {
  readonly successes: number
  readonly trials: number
}

/** Throws RangeError unless the counts are whole and 0 <= successes <= trials, trials >= 1. */
function checkTrials({ successes, trials }: Trials): void {
  const isWhole = Number.isInteger(successes) && Number.isInteger(trials)
  if (!isWhole || successes < 0 || trials < 1 || successes > trials)
    throw new RangeError(`whole successes among whole trials are needed, not ${successes} among ${trials}`)
}

/** P(X = successes) where each trial succeeds with the chance p. source: loader-2000, 3 */
export function binomialChance({ successes, trials }: Trials, p: number): number {
  checkTrials({ successes, trials })
  checkShare(p)
  return binomialMass({ successes, failures: trials - successes }, { success: p, failure: 1 - p })
}

/** P(X <= successes). source: abramowitz-stegun-1964, 26.5.24 */
export function binomialCumulative({ successes, trials }: Trials, p: number): number {
  checkTrials({ successes, trials })
  checkShare(p)
  if (successes === trials) return 1
  return betaShares({ a: successes + 1, b: trials - successes }, oddsOf(p)).upper
}

/** P(X > successes). source: abramowitz-stegun-1964, 26.5.24 */
export function binomialSurvival({ successes, trials }: Trials, p: number): number {
  checkTrials({ successes, trials })
  checkShare(p)
  if (successes === trials) return 0
  return betaShares({ a: successes + 1, b: trials - successes }, oddsOf(p)).lower
}

/** Smallest whole k with P(X <= k) >= share. */
export function binomialQuantile(share: number, trials: number, p: number): number {
  checkTrials({ successes: 0, trials })
  checkShare(share)
  let low = 0
  let high = trials
  while (low < high) {
    const middle = Math.floor(0.5 * (low + high))
    if (binomialCumulative({ successes: middle, trials }, p) >= share) high = middle
    else low = middle + 1
  }
  return low
}

/**
 * Exact lower bound of the chance of success, held with the one-sided confidence (for a two-sided interval of
 * confidence c give (1 + c)/2 to both bounds): p with P(X >= successes) = 1 - confidence; 0 without a success.
 * Throws RangeError for counts that are none. source: clopper-pearson-1934
 */
export function binomialLowerBound(counted: Trials, confidence: number): number {
  checkTrials(counted)
  checkShare(confidence)
  const { successes, trials } = counted
  if (successes === 0) return 0
  const shape = { a: successes, b: trials - successes + 1 }
  return fromOdds(betaOdds(shape, { tail: 'upper', share: confidence }))
}

/** Exact upper bound, as `binomialLowerBound`; 1 where every trial succeeded. source: clopper-pearson-1934 */
export function binomialUpperBound(counted: Trials, confidence: number): number {
  checkTrials(counted)
  checkShare(confidence)
  const { successes, trials } = counted
  if (successes === trials) return 1
  const shape = { a: successes + 1, b: trials - successes }
  return fromOdds(betaOdds(shape, { tail: 'lower', share: confidence }))
}
