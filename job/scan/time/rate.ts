/** The sample rate that the stamps in the head of a recording show. */
import type { Rate } from '../format.ts'
import { type StampPlan, Stamps } from './stamps.ts'
import { type Line, roundest } from './trend.ts'

export interface StampRate {
  readonly plan: StampPlan
  readonly line: Line
  readonly rate: Rate
  /** what is wrong with the stamps; empty where nothing is */
  readonly warning: string
}

/**
 * Judges time stamps (s, file order). Regular: all but two, or all but one in twenty, of the steps lie between 0.5 and
 * 1.5 of the middle step; then the step is refined by a run of the clock itself. Otherwise the rate is the trend alone.
 * Undefined where the stamps do not advance.
 */
export function rateOfStamps(stamps_s: Float64Array, period_s: number | undefined): StampRate | undefined {
  const finite = stamps_s.filter(Number.isFinite)
  const middle = middleStep(finite)
  const regular = middle > 0 && isRegular(finite, middle)
  const period = period_s === undefined ? {} : { period_s }
  const first = lineOf(finite, { step_s: middle > 0 ? middle : 1, regular, ...period })
  if (first === undefined) return undefined
  const line = (regular ? lineOf(finite, { step_s: first.step_s, regular, ...period }) : first) ?? first
  const value = roundest(1 / line.step_s, line.tolerance)
  return {
    plan: { step_s: line.step_s, regular, ...period },
    line,
    rate: { value, certainty: regular ? 0.95 : 0.6, reason: reasonFor(regular, finite.length) },
    warning: regular ? '' : WARNING
  }
}

const WARNING =
  'time stamps are coarse, doubled or shared by several rows: the rate is their trend, single stamps are not used, ' +
  'and gaps in time cannot be seen'

const reasonFor = (regular: boolean, rows: number): string =>
  regular
    ? `even time stamps over the first ${rows} rows`
    : `trend of uneven time stamps over the first ${rows} rows, single stamps not used`

function lineOf(stamps: Float64Array, plan: StampPlan): Line | undefined {
  const clock = new Stamps(plan)
  let sample = 0
  for (const stamp of stamps) {
    sample += clock.next(sample, stamp)
    sample++
  }
  return clock.trend.line()
}

function middleStep(stamps: Float64Array): number {
  const steps = stamps.slice(1).map((stamp, row) => stamp - (stamps[row] ?? 0))
  const up = steps.filter((step) => step > 0).sort()
  return up.length === 0 ? 0 : (up[Math.floor(up.length / 2)] ?? 0)
}

function isRegular(stamps: Float64Array, middle: number): boolean {
  let odd = 0
  for (let row = 1; row < stamps.length; row++) {
    const step = (stamps[row] ?? 0) - (stamps[row - 1] ?? 0)
    if (!(step > 0.5 * middle && step < 1.5 * middle)) odd++
  }
  return odd <= Math.max(2, stamps.length / 20) && 2 * odd < stamps.length
}
