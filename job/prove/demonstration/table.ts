import { binomialCumulative, binomialLowerBound } from '@trueloop/ground/numerics'

/** What a demonstration is to show: a chance of a hit of at least `share`, held with the one-sided confidence. */
export interface Goal {
  readonly share: number
  readonly confidence: number
}

/** Flaws, and how many of them may be missed. */
export interface Counts {
  readonly trials: number
  readonly misses: number
}

/** Exact lower bound of the chance of a hit once so many of the flaws were missed. source: clopper-pearson-1934 */
export const shownBy = ({ trials, misses }: Counts, confidence: number): number =>
  binomialLowerBound({ successes: trials - misses, trials }, confidence)

/**
 * Fewest flaws with which so many misses still show the goal: 29, 46, 61 for 0, 1, 2 misses at 90 % and 95 %. Throws
 * RangeError for a goal outside (0, 1) and misses that are no count. source: clopper-pearson-1934
 */
export function fewestFlaws({ share, confidence }: Goal, misses: number): number {
  if (!(share > 0 && share < 1 && confidence > 0 && confidence < 1 && Number.isInteger(misses) && misses >= 0))
    throw new RangeError(`a goal of ${share} at ${confidence} with ${misses} misses`)
  const isEnough = (trials: number): boolean => shownBy({ trials, misses }, confidence) >= share
  let high = misses + 1
  while (!isEnough(high)) high *= 2
  let low = Math.max(misses, Math.floor(high / 2))
  while (high - low > 1) {
    const middle = Math.floor(0.5 * (low + high))
    if (isEnough(middle)) high = middle
    else low = middle
  }
  return high
}

/** Rows of the table for a goal, from no miss to so many. */
export const demonstrationTable = (goal: Goal, mostMisses: number): readonly (Counts & { readonly shown: number })[] =>
  Array.from({ length: mostMisses + 1 }, (_, misses) => {
    const trials = fewestFlaws(goal, misses)
    return { trials, misses, shown: shownBy({ trials, misses }, goal.confidence) }
  })

/** Chance that a technique with this true chance of a hit passes: at most so many misses. source: loader-2000, 3 */
export const chanceOfPassing = ({ trials, misses }: Counts, trueShare: number): number =>
  binomialCumulative({ successes: misses, trials }, 1 - trueShare)
