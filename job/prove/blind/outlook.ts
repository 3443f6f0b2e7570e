import { binomialUpperBound } from '@trueloop/ground/numerics'
import { chanceOfPassing, demonstrationTable } from '../demonstration/table.ts'
import { type Expected, reachOf, spreadSizes } from './reach.ts'
import { signalReachOf } from './signal-reach.ts'

/** What is known before a trial is built. Nothing in it has a default. */
export interface OutlookAsked extends Expected {
  /** sizes that flaws can be had in, mm */
  readonly least_mm: number
  readonly most_mm: number
}

/** A trial of so many flaws of sizes in equal ratios; undefined where nothing would be shown. */
export interface OutlookRow {
  readonly flaws: number
  readonly hits_mm?: number
  /** below 1.645 such a trial most often shows nothing by hits and misses */
  readonly slopeInErrors?: number
  readonly signals_mm?: number
}

/** What trials of several sizes would show if what is expected comes true, for the choice of one. It is no result. */
export interface Outlook {
  readonly rows: readonly OutlookRow[]
  /** blanks of which none is called, and the most that the false-call rate can then be */
  readonly blanks: readonly { readonly blanks: number; readonly upper: number }[]
  /** flaws of one size that show 90 % with 95 %, and the chance that a technique passes that finds 98 % */
  readonly demonstrations: readonly { readonly flaws: number; readonly misses: number; readonly passes: number }[]
}

const COUNTS = [20, 30, 40, 60, 90, 120, 200]
const BLANKS = [30, 60, 120, 180, 300]
const MOST_MISSES = 4
const GOAL = { share: 0.9, confidence: 0.95 }
const TRUE_SHARE = 0.98

/** Sizes lie in equal ratios from the least to the most. Bounds are those of 90 % with 95 % confidence. */
export const outlookOf = ({ least_mm, most_mm, ...expected }: OutlookAsked): Outlook => ({
  rows: COUNTS.map((flaws) => rowOf(spreadSizes(least_mm, most_mm, flaws), expected)),
  blanks: BLANKS.map((blanks) => ({
    blanks,
    upper: binomialUpperBound({ successes: 0, trials: blanks }, GOAL.confidence)
  })),
  demonstrations: demonstrationTable(GOAL, MOST_MISSES).map(({ trials, misses }) => ({
    ...{ flaws: trials, misses, passes: chanceOfPassing({ trials, misses }, TRUE_SHARE) }
  }))
})

/** The same of given sizes. */
export function rowOf(sizes_mm: readonly number[], expected: Expected): OutlookRow {
  const hits = reachOf(sizes_mm, expected)
  const signals = signalReachOf(sizes_mm, expected)
  return {
    flaws: sizes_mm.filter((size) => size > 0).length,
    ...(hits === undefined
      ? {}
      : { hits_mm: hits.bound_over_a90 * expected.a90_mm, slopeInErrors: hits.slope_in_errors }),
    ...(signals === undefined ? {} : { signals_mm: signals * expected.a90_mm })
  }
}
