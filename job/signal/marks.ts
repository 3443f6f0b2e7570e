import { borrowColumn, giveBack, median } from '@trueloop/ground/numerics'
import { firstBelow, firstFrom, type Range } from './marks.kernel.ts'

/** One whole turn of the probe begins at sample number `at` (a fraction of a sample is meant). */
export interface Mark {
  readonly at: number
  /** `seen` on the index channel; `filled` between two seen ones; `lost` where too many were missing; `from the signal` */
  readonly kind: 'seen' | 'filled' | 'lost' | 'from the signal'
}

export interface MarkCounts {
  seen: number
  filled: number
  lost: number
  bounced: number
  doubled: number
}

/** Rules for marks; times as shares of the period met. Common practice, no source. */
const BOUNCE = 0.3
const SHORT = 0.6
const MOST_FILLED = 3
const PATIENCE = MOST_FILLED + 1.6
const FIRST_EDGES = 6
/** Marks that come much faster than stated have to be regular over so many edges, or they are noise. */
const FAST = 0.4
const MANY_EDGES = 24
const OFF_BEAT = 0.15
const LEAST_REGULAR = 0.7
const FIRST_PERIODS = 8
const MEMORY = 7

const NONE: readonly Mark[] = []

/**
 * Finds the turns on an index channel: rising edges through the middle of its range, with hysteresis; bounces and double
 * marks are left out, up to three missing ones are filled in evenly, more make the stretch `lost`. Works sample by
 * sample, so that cutting changes nothing. `noMarks` turns true when the channel never answers.
 */
export class MarkTracker {
  readonly counts: MarkCounts = { seen: 0, filled: 0, lost: 0, bounced: 0, doubled: 0 }
  noMarks = false
  readonly #nominal: number
  #waiting: Float64Array<ArrayBuffer> | undefined
  #waited = 0
  #begin = 0
  #level: { up: number; down: number } | undefined
  #edges: number[] = []
  #armed = false
  #before = Number.NaN
  #period = 0
  #intervals: number[] = []
  #last: number | undefined
  /** the last mark was a guess: how many turns lie between it and the next edge is not known either */
  #lost = false
  #marks: Mark[] = []

  /** @param nominal samples per revolution at the nominal speed */
  constructor(nominal: number) {
    this.#nominal = nominal
    this.#waiting = borrowColumn(Math.max(1, Math.ceil(3 * nominal)))
  }

  /** Takes the index samples of the block, the first of which is sample number `first`; returns the marks certain now. */
  take(first: number, index: Float64Array, block: Range = { from: 0, to: index.length }): readonly Mark[] {
    const from = this.#waiting === undefined ? block.from : this.#wait(first, index, block)
    if (from < block.to) this.#run(first - block.from, index, { from, to: block.to })
    return this.#handOver()
  }

  #run(offset: number, index: Float64Array, { from, to }: Range): void {
    for (let i = from; i < to; i++) {
      i = this.#calm(offset, index, { from: i, to })
      if (i < to) this.#follow(offset + i, index[i]!)
    }
  }

  /** Gathers three nominal periods from the first readable sample on; returns where the block goes on after them. */
  #wait(first: number, index: Float64Array, { from, to }: Range): number {
    const waiting = this.#waiting!
    let i = from
    if (this.#waited === 0) {
      while (i < to && Number.isNaN(index[i]!)) i++
      this.#begin = first + i - from
    }
    const end = Math.min(to, i + waiting.length - this.#waited)
    waiting.set(index.subarray(i, end), this.#waited)
    this.#waited += end - i
    if (this.#waited === waiting.length) this.#calibrate()
    return end
  }

  /** Passes over samples at which nothing happens; returns the number of the next one in the block at which something may. */
  #calm(offset: number, index: Float64Array, { from, to }: Range): number {
    const level = this.#level
    if (level === undefined || this.noMarks) return to
    const patience =
      this.#period === 0 ? this.#begin + FIRST_PERIODS * this.#nominal : this.#last! + PATIENCE * this.#period
    const patient = Math.min(to, Math.floor(patience - offset) - 1)
    if (patient <= from) return from
    const range = { from, to: patient }
    const next = this.#armed ? firstFrom(level.up, index, range) : firstBelow(level.down, index, range)
    for (let i = next - 1; i >= from; i--) {
      if (Number.isNaN(index[i]!)) continue
      this.#before = index[i]!
      break
    }
    return next
  }

  end(): readonly Mark[] {
    if (this.#waiting !== undefined) this.#calibrate()
    if (this.#period === 0) this.#settle(true)
    return this.#handOver()
  }

  #handOver(): readonly Mark[] {
    if (this.#marks.length === 0) return NONE
    const marks = this.#marks
    this.#marks = []
    return marks
  }

  /** The level of a mark is the middle of the range met in the first three nominal periods. */
  #calibrate(): void {
    const waiting = this.#waiting!
    const values = waiting.subarray(0, this.#waited)
    let least = Number.POSITIVE_INFINITY
    let most = Number.NEGATIVE_INFINITY
    for (let i = 0; i < values.length; i++) {
      const value = values[i]!
      if (value < least) least = value
      if (value > most) most = value
    }
    this.#waiting = undefined
    const range = most - least
    if (range > 0) this.#level = { up: least + 0.5 * range, down: least + 0.35 * range }
    else this.noMarks = true
    const { up } = this.#level ?? { up: 0 }
    this.#armed = (values[0] ?? 0) < up
    this.#run(this.#begin, values, { from: 0, to: values.length })
    giveBack(waiting)
  }

  #follow(at: number, value: number): void {
    const level = this.#level
    if (level === undefined || this.noMarks || Number.isNaN(value)) return
    if (this.#armed && value >= level.up) {
      this.#armed = false
      const share = this.#before < value ? (level.up - this.#before) / (value - this.#before) : 1
      this.#edge(at - 1 + share)
    } else if (!this.#armed && value < level.down) this.#armed = true
    this.#before = value
    this.#lookAhead(at)
  }

  /** What has to happen when no mark comes. */
  #lookAhead(at: number): void {
    if (this.#period === 0) {
      if (at - this.#begin > FIRST_PERIODS * this.#nominal) this.#settle(true)
      return
    }
    while (at - this.#last! > PATIENCE * this.#period) this.#push(this.#last! + this.#period, 'lost')
  }

  #edge(at: number): void {
    if (this.#period > 0) {
      this.#judge(at)
      return
    }
    this.#edges.push(at)
    if (this.#edges.length >= FIRST_EDGES) this.#settle(false)
  }

  /** The period to begin with comes from the first edges themselves, not from the nominal speed. */
  #settle(last: boolean): void {
    const edges = this.#edges
    const gaps = edges.slice(1).map((edge, i) => edge - edges[i]!)
    const longest = Math.max(0, ...gaps)
    const period = longest > 0 ? median(gaps.filter((gap) => gap > 0.4 * longest)) : 0
    const fast = period < FAST * this.#nominal
    if (fast && !last && edges.length < MANY_EDGES) return
    this.#edges = []
    if (longest < 0.1 * this.#nominal || (fast && !areRegular(gaps, period))) {
      this.noMarks = true
      return
    }
    this.#period = period
    for (const edge of edges) this.#judge(edge)
  }

  #judge(at: number): void {
    if (this.#last === undefined) {
      this.#push(at, 'seen')
      return
    }
    const turns = (at - this.#last) / this.#period
    if (turns < BOUNCE) this.counts.bounced++
    else if (turns < SHORT) this.counts.doubled++
    else this.#accept(at, Math.max(1, Math.round(turns)))
  }

  #accept(at: number, turns: number): void {
    const from = this.#last!
    const kind = turns - 1 > MOST_FILLED || this.#lost ? 'lost' : 'filled'
    for (let k = 1; k < turns; k++) this.#push(from + ((at - from) * k) / turns, kind)
    if (turns === 1) this.#remember(at - from)
    this.#push(at, 'seen')
  }

  #remember(interval: number): void {
    this.#intervals.push(interval)
    if (this.#intervals.length > MEMORY) this.#intervals.shift()
    if (this.#intervals.length >= 3) this.#period = medianOfFew(this.#intervals)
  }

  #push(at: number, kind: 'seen' | 'filled' | 'lost'): void {
    this.#marks.push({ at, kind })
    this.counts[kind]++
    this.#last = at
    this.#lost = kind === 'lost'
  }
}

/** Whether most gaps are a whole number of periods long. */
function areRegular(gaps: readonly number[], period: number): boolean {
  const whole = (gap: number) => gap > 0.5 * period && Math.abs(gap / period - Math.round(gap / period)) < OFF_BEAT
  return gaps.filter(whole).length >= LEAST_REGULAR * gaps.length
}

const sorted = new Float64Array(MEMORY)

/** The median of up to `MEMORY` values, each put in its place: asked once a turn. */
function medianOfFew(values: readonly number[]): number {
  const n = values.length
  for (let i = 0; i < n; i++) {
    let at = i
    for (; at > 0 && sorted[at - 1]! > values[i]!; at--) sorted[at] = sorted[at - 1]!
    sorted[at] = values[i]!
  }
  const upper = sorted[n >> 1]!
  return n % 2 === 1 ? upper : upper - 0.5 * (upper - sorted[(n >> 1) - 1]!)
}
