import type { ExamineEvent } from './event.ts'

/** A place that stayed above the screen, over one or more revolutions. */
export interface Candidate {
  readonly id: string
  readonly sign: 1 | -1
  /** ruler point of its peak, and its size there, 1 = the named notch */
  readonly peak: number
  readonly matched: number
  /** largest vertical peak-to-peak met, standardized, and the ruler point where it was met */
  readonly swing: number
  readonly swingAt: number
  /** first ruler point and the one behind the last that belong to it */
  readonly from: number
  readonly to: number
  /** strongest place in each revolution, in order */
  readonly rows: readonly Row[]
}

export interface Row {
  readonly at: number
  readonly matched: number
}

/** A stretch of ruler with what was computed from it, element i at ruler point `first + i · step`. */
export interface Screened {
  readonly first: number
  readonly step: number
  /** squared level, 1 = the screen */
  readonly level: Float64Array
  /** signed size, 1 = the named notch; only looked at where the place is above the screen */
  readonly size: Float64Array
  /** vertical peak-to-peak around each element; absent where it is everywhere below the alarm */
  readonly swing: Float64Array | undefined
}

export interface Screen {
  /** vertical peak-to-peak above which a place is kept whatever its form: the technique's alarm */
  readonly swing: number
  /** ruler points of one revolution */
  readonly unit: number
}

export const MOST_CANDIDATES = 4000
const MOST_ROWS = 2048
/** How far a place may wander in angle from one revolution to the next and still be the same, ruler points. */
const WANDER = 10

interface Growing {
  id: string
  sign: 1 | -1
  peak: number
  matched: number
  level: number
  swing: number
  swingAt: number
  from: number
  to: number
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
  level: number
  swing: number
  swingAt: number
}

/**
 * Follows places above the screen along the ruler, revolution after revolution. A candidate is opened as soon as its
 * first run of points is over, that is within one revolution; it is settled when a revolution passes without it.
 * What depends on order is the ruler's order alone. Bounded: `overflow` tells that there were more than can be kept.
 */
export class CandidateTracker {
  overflow = false
  readonly #screen: Screen
  readonly #growing: Growing[] = []
  #settled: Candidate[] = []
  #run: OpenRun | undefined
  #numbers = 0
  /** ruler point behind the last one taken */
  #now = 0

  constructor(screen: Screen) {
    this.#screen = screen
  }

  take(stretch: Screened): readonly ExamineEvent[] {
    const events: ExamineEvent[] = []
    const { level, swing } = stretch
    const alarm = this.#screen.swing
    let open = this.#run !== undefined
    for (let i = 0; i < level.length; i++) {
      if (!open && level[i]! < 1 && (swing === undefined || swing[i]! < alarm)) continue
      this.#point(stretch, i, events)
      open = this.#run !== undefined
    }
    this.#pass(stretch.first + stretch.level.length * stretch.step, events)
    return events
  }

  /** The same for a stretch that lies below the screen everywhere. */
  skip(first: number, to: number): readonly ExamineEvent[] {
    if (this.#run === undefined && this.#growing.length === 0) {
      this.#now = to
      return NOTHING
    }
    const events: ExamineEvent[] = []
    this.#endRun(first, events)
    this.#pass(to, events)
    return events
  }

  close(): { readonly events: readonly ExamineEvent[]; readonly candidates: readonly Candidate[] } {
    const events: ExamineEvent[] = []
    this.#endRun(this.#now, events)
    this.#settle(Number.POSITIVE_INFINITY, events)
    const candidates = [...this.#settled].sort((a, b) => a.peak - b.peak)
    return { events, candidates }
  }

  #pass(to: number, events: ExamineEvent[]): void {
    this.#now = to
    if (this.#growing.length > 0) this.#settle(to, events)
  }

  #endRun(to: number, events: ExamineEvent[]): void {
    if (this.#run !== undefined) this.#end(this.#run, to, events)
    this.#run = undefined
  }

  #point({ first, step, level, size, swing }: Screened, i: number, events: ExamineEvent[]): void {
    const now = { level: level[i]!, size: size[i]!, swing: swing === undefined ? 0 : swing[i]! }
    const above = now.level >= 1 || now.swing >= this.#screen.swing
    const sign = now.size < 0 ? -1 : 1
    const at = first + i * step
    const run = this.#run
    if (run !== undefined && (!above || run.sign !== sign || at - run.from >= this.#screen.unit)) {
      this.#endRun(at, events)
    }
    if (!above) return
    this.#run ??= { from: at, sign, peak: at, matched: 0, level: -1, swing: 0, swingAt: at }
    raise(this.#run, at, now)
  }

  #end(run: OpenRun, to: number, events: ExamineEvent[]): void {
    const { unit } = this.#screen
    const growing = this.#growing
    let oldest: Growing | undefined
    for (let k = 0; k < growing.length; ) {
      const one = growing[k]!
      const meets = one.sign === run.sign && touches(one, run.from, to, unit)
      if (meets && oldest !== undefined) {
        absorb(oldest, one)
        growing.splice(k, 1)
        events.push({ kind: 'withdrawn', id: one.id, reason: `joined with ${oldest.id}` })
        continue
      }
      if (meets) oldest = one
      k++
    }
    if (oldest === undefined) {
      this.#open(run, to, events)
      return
    }
    grow(oldest, run, to, unit)
    if (oldest.matched > oldest.reported) {
      oldest.reported = oldest.matched
      events.push({ kind: 'revised', id: oldest.id, ruler: oldest.peak / unit, matched: oldest.matched })
    }
  }

  #open(run: OpenRun, to: number, events: ExamineEvent[]): void {
    if (this.#growing.length + this.#settled.length >= MOST_CANDIDATES) {
      this.overflow = true
      return
    }
    const id = `c${++this.#numbers}`
    const { from, sign, peak, matched, level, swing, swingAt } = run
    const rows = [{ at: peak, matched }]
    const spans = [{ from, to }]
    this.#growing.push({ id, sign, peak, matched, level, swing, swingAt, from, to, rows, spans, reported: matched })
    events.push({ kind: 'opened', id, ruler: run.peak / this.#screen.unit, matched: run.matched })
  }

  /** Settles what can't be continued any more: the point `now` lies more than a revolution beyond its newest run. */
  #settle(now: number, events: ExamineEvent[]): void {
    const growing = this.#growing
    const reach = this.#screen.unit + WANDER
    const run = this.#run
    let left = 0
    for (let k = 0; k < growing.length; k++) {
      const one = growing[k]!
      const newest = one.spans[one.spans.length - 1]!
      const continued = run !== undefined && run.from <= newest.to + reach
      if (now <= newest.to + reach + 1 || continued) {
        growing[left++] = one
        continue
      }
      this.#settled.push(finished(one))
      events.push({ kind: 'settled', id: one.id, ruler: one.peak / this.#screen.unit, matched: one.matched })
    }
    growing.length = left
  }
}

const NOTHING: readonly ExamineEvent[] = []

function raise(
  run: OpenRun,
  at: number,
  now: { readonly level: number; readonly size: number; readonly swing: number }
): void {
  if (now.level > run.level) {
    run.level = now.level
    run.matched = Math.abs(now.size)
    run.peak = at
  }
  if (now.swing > run.swing) {
    run.swing = now.swing
    run.swingAt = at
  }
}

/** Whether a run lies over one of the candidate's runs of the revolution before. */
function touches(one: Growing, from: number, to: number, unit: number): boolean {
  const { spans } = one
  for (let k = 0; k < spans.length; k++) {
    const span = spans[k]!
    if (from <= span.to + unit + WANDER && to >= span.from + unit - WANDER) return true
  }
  return false
}

function grow(one: Growing, run: OpenRun, to: number, unit: number): void {
  keepLarger(one, run)
  if (one.rows.length < MOST_ROWS) one.rows.push({ at: run.peak, matched: run.matched })
  one.to = Math.max(one.to, to)
  one.spans.push({ from: run.from, to })
  while (one.spans.length > 1 && one.spans[0]!.to + unit + WANDER < run.from) one.spans.shift()
}

function keepLarger(one: Growing, other: Omit<OpenRun, 'from' | 'sign'>): void {
  if (other.level > one.level) {
    one.level = other.level
    one.matched = other.matched
    one.peak = other.peak
  }
  if (other.swing > one.swing) {
    one.swing = other.swing
    one.swingAt = other.swingAt
  }
}

function absorb(one: Growing, other: Growing): void {
  keepLarger(one, other)
  one.from = Math.min(one.from, other.from)
  one.to = Math.max(one.to, other.to)
  one.rows = [...one.rows, ...other.rows].sort((a, b) => a.at - b.at).slice(0, MOST_ROWS)
  one.spans = [...one.spans, ...other.spans].sort((a, b) => a.to - b.to)
}

const finished = ({ id, sign, peak, matched, swing, swingAt, from, to, rows }: Growing): Candidate => ({
  id,
  sign,
  peak,
  matched,
  swing,
  swingAt,
  from,
  to,
  rows
})
