import { binomialLowerBound, binomialUpperBound, type Interval } from '@trueloop/ground/numerics'
import type { StudyRow } from '../rows.ts'

/** Flaws of like size with what became of them: what the curve is looked at beside. */
export interface ObservedShare {
  readonly smallest_m: number
  readonly largest_m: number
  readonly flaws: number
  readonly hits: number
  /** exact, two-sided; of these flaws as if they were of one size */
  readonly interval: Interval
}

/** groups for the eye, of as many flaws each as may be. common practice, no source */
const GROUPS = 10
const TWO_SIDED = 0.95

/**
 * Shares of hits over size: at each size where there are no more than ten, else in ten groups of rising size, cut after
 * floor(k n/10 + 1/2) flaws; flaws of one size are never parted. source: clopper-pearson-1934
 */
export function observedShares(rows: readonly StudyRow[]): readonly ObservedShare[] {
  const rising = [...rows].sort((a, b) => a.size_m - b.size_m)
  const sizes = new Set(rising.map(({ size_m }) => size_m)).size
  const groupAt = (i: number): number => Math.floor(((i + 0.5) * GROUPS) / rising.length)
  const groups: StudyRow[][] = []
  for (const [i, row] of rising.entries()) {
    const before = rising[i - 1]
    const isSame = before?.size_m === row.size_m
    const isNew = before === undefined || (!isSame && (sizes <= GROUPS || groupAt(i) !== groupAt(i - 1)))
    if (isNew) groups.push([row])
    else groups.at(-1)?.push(row)
  }
  return groups.map(shareOf)
}

function shareOf(rows: readonly StudyRow[]): ObservedShare {
  const hits = rows.filter(({ hit }) => hit).length
  const counted = { successes: hits, trials: rows.length }
  const confidence = 0.5 + 0.5 * TWO_SIDED
  return {
    ...{ smallest_m: rows[0]?.size_m ?? 0, largest_m: rows.at(-1)?.size_m ?? 0, flaws: rows.length, hits },
    interval: { lower: binomialLowerBound(counted, confidence), upper: binomialUpperBound(counted, confidence) }
  }
}
