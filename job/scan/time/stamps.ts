/** Follows the time stamps of a recording row by row: gaps, stamps that run back, a clock that starts again. */
import { Trend } from './trend.ts'

/** What the head of a recording taught about its stamps. */
export interface StampPlan {
  /** nominal seconds a sample */
  readonly step_s: number
  /** false: coarse, doubled or shared by blocks of rows; then gaps can't be seen */
  readonly regular: boolean
  /** a clock without a date starts again after so long */
  readonly period_s?: number
}

/** Between the rows `first` and `last` of the recording the stamps ran back by up to `by_s`. */
export interface Backward {
  readonly first: number
  readonly last: number
  readonly by_s: number
  readonly stays: boolean
}

/** So many rows in a row behind the clock mean that the clock was set, not that the stamps are wrong. */
const PATIENCE = 64

/**
 * A clock that runs at the nominal step and follows the stamps by an eighth of their lead, so that stamps which jitter
 * by less than half a sample pass, a stamp more than half a sample early (a jump of more than 1.5 samples) is a gap,
 * and a stamp more than half a sample late is one that ran back.
 */
export class Stamps {
  readonly trend = new Trend()
  private expected = Number.NaN
  private raw = Number.NaN
  private wraps = 0
  private shift = 0
  private late = 0
  private lateSince = 0
  private latest = 0
  private by = 0
  backward: Backward | undefined
  private readonly plan: StampPlan

  constructor(plan: StampPlan) {
    this.plan = plan
  }

  /**
   * Takes the stamp (s) of sample number `sample` (counted as if nothing were missing before it) and returns how many
   * samples are missing before it. `backward` is set when a run of backward stamps has just ended.
   */
  next(sample: number, stamp: number): number {
    this.backward = undefined
    if (stamp - stamp !== 0) {
      this.expected += this.plan.step_s
      return 0
    }
    const time = this.unwrap(stamp) + this.shift
    if (this.expected - this.expected !== 0) this.expected = time
    return this.plan.regular ? this.regular(sample, time) : this.coarse(sample, time)
  }

  /** A run of backward stamps that the end of the recording cut off. */
  end(): Backward | undefined {
    return this.late > 0 ? this.closeRun(true) : undefined
  }

  private unwrap(stamp: number): number {
    const period = this.plan.period_s
    if (period !== undefined && stamp < this.raw - period / 2) this.wraps++
    this.raw = stamp
    return period === undefined ? stamp : stamp + this.wraps * period
  }

  private regular(sample: number, time: number): number {
    const step = this.plan.step_s
    const lead = time - this.expected
    if (lead < -step / 2) return this.behind(sample, lead)
    if (this.late > 0) this.backward = this.closeRun(false)
    const missing = lead > step / 2 ? Math.round(lead / step) : 0
    this.expected = (missing > 0 ? time : this.expected + lead / 8) + step
    this.trend.add(sample + missing, time)
    return missing
  }

  private coarse(sample: number, time: number): number {
    if (time < this.expected) return this.behind(sample, time - this.expected)
    if (this.late > 0) this.backward = this.closeRun(false)
    this.expected = time
    this.trend.add(sample, time)
    return 0
  }

  private behind(sample: number, lead: number): number {
    if (this.late === 0) this.lateSince = sample
    this.late++
    this.latest = sample
    this.by = Math.max(this.by, -lead)
    if (this.plan.regular) this.expected += this.plan.step_s
    if (this.late > PATIENCE) {
      this.shift -= lead
      this.backward = this.closeRun(true)
    }
    return 0
  }

  private closeRun(stays: boolean): Backward {
    const run = { first: this.lateSince, last: this.latest, by_s: this.by, stays }
    this.late = 0
    this.by = 0
    return run
  }
}
