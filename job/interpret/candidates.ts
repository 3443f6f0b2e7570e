import type { ExamineEvent } from './event.ts'

/** A place where the matched output stayed above the screen, over one or more revolutions. */
export interface Candidate {
  readonly id: string
  readonly sign: 1 | -1
  /** ruler point of the peak, and the matched output there (positive) */
  readonly peak: number
  readonly matched: number
  /** largest vertical peak-to-peak met, 1 = the named notch's */
  readonly swing: number
  /** standardized signal around the peak, `[2·half + 1]` */
  readonly x: Float64Array
  readonly y: Float64Array
  /** strongest place in each revolution, in order */
  readonly rows: readonly Row[]
}

export interface Row {
  readonly at: number
  readonly matched: number
}

/** One unit of ruler with what was computed from it; `x`, `y` reach `half` points beyond on both sides. */
export interface Screened {
  readonly first: number
  readonly matched: Float64Array
  readonly swing: Float64Array
  readonly x: Float64Array
  readonly y: Float64Array
  readonly half: number
}

export interface Screen {
  /** matched output above which a place is kept */
  readonly matched: number
  /** vertical peak-to-peak above which it is kept whatever its form: the technique's alarm */
  readonly swing: number
  /** points of one revolution */
  readonly unit: number
}

export const MOST_CANDIDATES = 4000
const MOST_ROWS = 2048
/** How far a place may wander in angle from one revolution to the next and still be the same, points. */
const WANDER = 10

interface Growing {
  id: string
  sign: 1 | -1
  peak: number
  matched: number
  swing: number
  x: Float64Array
  y: Float64Array
  rows: Row[]
  /** runs of the latest revolutions, newest last */
  spans: { from: number; to: number }[]
  reported: number
}

interface OpenRun {
  readonly from: number
  readonly sign: 1 | -1
  peak: number
  matched: number
  swing: number
  x: Float64Array
  y: Float64Array
}

/**
 * Follows places above the screen along the ruler, revolution after revolution. A candidate is opened as soon as its
 * first run of points is over, that is within one revolution; it is settled when a revolution passes without it.
 * What depends on order is the ruler's order alone. Bounded: `overflow` tells that there were more than can be kept.
 */
export class CandidateTracker {
  overflow = false
  readonly #screen: Screen
  #growing: Growing[] = []
  #settled: Candidate[] = []
  #run: OpenRun | undefined
  #numbers = 0
  /** ruler point behind the last one taken */
  #now = 0

  constructor(screen: Screen) {
    this.#screen = screen
  }

  take(unit: Screened): readonly ExamineEvent[] {
    const events: ExamineEvent[] = []
    const quiet = firstAbove(unit, this.#screen)
    if (quiet > 0 && this.#run !== undefined) this.#point(unit, 0, events)
    for (let i = quiet; i < unit.matched.length; i++) this.#point(unit, i, events)
    this.#keepPeak(unit)
    this.#now = unit.first + unit.matched.length
    this.#settle(this.#now, events)
    return events
  }

  close(): { readonly events: readonly ExamineEvent[]; readonly candidates: readonly Candidate[] } {
    const events: ExamineEvent[] = []
    if (this.#run !== undefined) this.#end(this.#run, this.#now, events)
    this.#run = undefined
    this.#settle(Number.POSITIVE_INFINITY, events)
    const candidates = [...this.#settled].sort((a, b) => a.peak - b.peak)
    return { events, candidates }
  }

  #point(unit: Screened, i: number, events: ExamineEvent[]): void {
    const matched = unit.matched[i]!
    const size = Math.abs(matched)
    const above = size >= this.#screen.matched || unit.swing[i]! >= this.#screen.swing
    const sign = matched < 0 ? -1 : 1
    const at = unit.first + i
    const run = this.#run
    if (run !== undefined && (!above || run.sign !== sign || at - run.from >= this.#screen.unit)) {
      this.#keepPeak(unit)
      this.#end(run, at, events)
      this.#run = undefined
    }
    if (!above) return
    if (this.#run === undefined) {
      this.#run = { from: at, sign, peak: at, matched: size, swing: unit.swing[i]!, x: NONE, y: NONE }
      return
    }
    if (size > this.#run.matched) {
      this.#run.matched = size
      this.#run.peak = at
    }
    this.#run.swing = Math.max(this.#run.swing, unit.swing[i]!)
  }

  /** Copies the signal around the running peak while the unit that holds it is here. */
  #keepPeak(unit: Screened): void {
    const run = this.#run
    if (run === undefined || run.peak < unit.first || run.peak >= unit.first + unit.matched.length) return
    const from = run.peak - unit.first
    run.x = unit.x.slice(from, from + 2 * unit.half + 1)
    run.y = unit.y.slice(from, from + 2 * unit.half + 1)
  }

  #end(run: OpenRun, to: number, events: ExamineEvent[]): void {
    const before = this.#growing.filter((one) => one.sign === run.sign && touches(one, run.from, to, this.#screen.unit))
    const [oldest, ...others] = before
    if (oldest === undefined) {
      this.#open(run, to, events)
      return
    }
    for (const other of others) {
      absorb(oldest, other)
      this.#growing.splice(this.#growing.indexOf(other), 1)
      events.push({ kind: 'withdrawn', id: other.id, reason: `joined with ${oldest.id}` })
    }
    grow(oldest, run, to, this.#screen.unit)
    if (oldest.matched > oldest.reported) {
      oldest.reported = oldest.matched
      events.push({ kind: 'revised', id: oldest.id, ruler: oldest.peak / this.#screen.unit, matched: oldest.matched })
    }
  }

  #open(run: OpenRun, to: number, events: ExamineEvent[]): void {
    if (this.#growing.length + this.#settled.length >= MOST_CANDIDATES) {
      this.overflow = true
      return
    }
    const id = `c${++this.#numbers}`
    this.#growing.push({
      id,
      sign: run.sign,
      peak: run.peak,
      matched: run.matched,
      swing: run.swing,
      x: run.x,
      y: run.y,
      rows: [{ at: run.peak, matched: run.matched }],
      spans: [{ from: run.from, to }],
      reported: run.matched
    })
    events.push({ kind: 'opened', id, ruler: run.peak / this.#screen.unit, matched: run.matched })
  }

  /** Settles what can't be continued any more: the point `now` lies more than a revolution beyond its newest run. */
  #settle(now: number, events: ExamineEvent[]): void {
    const open: Growing[] = []
    for (const one of this.#growing) {
      const newest = one.spans.at(-1)!
      if (
        now <= newest.to + this.#screen.unit + WANDER + 1 ||
        (this.#run !== undefined && this.#run.from <= newest.to + this.#screen.unit + WANDER)
      ) {
        open.push(one)
        continue
      }
      this.#settled.push(finished(one))
      events.push({ kind: 'settled', id: one.id, ruler: one.peak / this.#screen.unit, matched: one.matched })
    }
    this.#growing = open
  }
}

const NONE = new Float64Array(0)

/** The first point above the screen, or their number where there is none: before it at most an open run ends. */
function firstAbove({ matched, swing }: Screened, screen: Screen): number {
  let i = 0
  while (i < matched.length && !(Math.abs(matched[i]!) >= screen.matched || swing[i]! >= screen.swing)) i++
  return i
}

/** Whether a run lies over one of the candidate's runs of the revolution before. */
function touches(one: Growing, from: number, to: number, unit: number): boolean {
  return one.spans.some((span) => from <= span.to + unit + WANDER && to >= span.from + unit - WANDER)
}

function grow(one: Growing, run: OpenRun, to: number, unit: number): void {
  if (run.matched > one.matched) {
    one.matched = run.matched
    one.peak = run.peak
    one.x = run.x
    one.y = run.y
  }
  one.swing = Math.max(one.swing, run.swing)
  if (one.rows.length < MOST_ROWS) one.rows.push({ at: run.peak, matched: run.matched })
  one.spans.push({ from: run.from, to })
  while (one.spans.length > 1 && one.spans[0]!.to + unit + WANDER < run.from) one.spans.shift()
}

function absorb(one: Growing, other: Growing): void {
  if (other.matched > one.matched) {
    one.matched = other.matched
    one.peak = other.peak
    one.x = other.x
    one.y = other.y
  }
  one.swing = Math.max(one.swing, other.swing)
  one.rows = [...one.rows, ...other.rows].sort((a, b) => a.at - b.at).slice(0, MOST_ROWS)
  one.spans = [...one.spans, ...other.spans].sort((a, b) => a.to - b.to)
}

const finished = ({ id, sign, peak, matched, swing, x, y, rows }: Growing): Candidate => ({
  id,
  sign,
  peak,
  matched,
  swing,
  x,
  y,
  rows
})
