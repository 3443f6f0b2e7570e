import type { ExamineEvent } from './event.ts'
import { type Null, Ring } from './ring.ts'
import type { Following } from './track-numbers.ts'

/** What is known of a track, point by point: columns of one length, standardized plane. */
export interface TrackPoints {
  readonly x: Float64Array
  readonly y: Float64Array
  /** answer of the alarm slot under the coating met there */
  readonly scale: Float64Array
  /** apparent coating, mm; NaN where it was not read */
  readonly coating: Float64Array
}

/** A stretch that begins and ends with an edge: what stands out of the plate beside it. */
export interface Stretch {
  readonly id: string
  /** ruler points between which it stands out */
  readonly from: number
  readonly to: number
  readonly sense: 1 | -1
  /** the null before it, and where it ended */
  readonly before: Null
  readonly after: Null
  /** how it ended: back on the plate before it, level on another one, or with the track */
  readonly ended: 'back' | 'step' | 'track'
  readonly peak: number
  readonly level: number
  /** columns from ruler point `drawnFrom` on: the stretch and some surroundings */
  readonly drawnFrom: number
  readonly x: readonly number[]
  readonly y: readonly number[]
  readonly scale: readonly number[]
  readonly coating: readonly number[]
}

const MOST_STRETCHES = 4000
/** Points of one stretch that are kept, and of all. */
const MOST_POINTS = 8192
const MOST_KEPT = 2_000_000
/** Surroundings that are kept before a stretch, in reaches. */
const DRAWN_BEFORE = 4
const RING = 8

interface Open {
  id: string
  from: number
  sense: 1 | -1
  before: Null
  rise: number
  peak: number
  flat: number
  drawnFrom: number
  x: number[]
  y: number[]
  scale: number[]
  coating: number[]
}

export interface FollowRule {
  /** width of the field in ruler points */
  readonly field: number
  /** level of the alarm, 1 = the alarm slot under the local coating */
  readonly alarm: number
  readonly numbers: Following
}

/**
 * Follows a track in the order of travel and keeps what begins with an edge, until it has come back, or lies level
 * elsewhere. The null runs along with the plate: a slow change of the plate is in it, however large; while something
 * stands, the null is that of the plate before it. A signal may point either way: flaws across the track point down.
 */
export class StretchTracker {
  overflow = false
  readonly #screen: number
  readonly #reach: number
  readonly #flat: number
  readonly #level: number
  readonly #worth: number
  readonly #numbers: Following
  readonly #stretches: Stretch[] = []
  readonly #ring: Ring
  #kept = 0
  #opened = 0
  #open: Open | undefined

  constructor({ field, alarm, numbers }: FollowRule) {
    this.#screen = numbers.screen * alarm
    this.#reach = Math.max(2, Math.round(numbers.reach * field))
    this.#flat = Math.max(2, Math.round(numbers.flat * field))
    this.#level = Math.round(numbers.around * field)
    this.#worth = numbers.worth * numbers.least * alarm
    this.#numbers = numbers
    this.#ring = new Ring(RING * this.#reach)
  }

  /** @param points from ruler point `first` on */
  take(first: number, points: TrackPoints): readonly ExamineEvent[] {
    const events: ExamineEvent[] = []
    for (let i = 0; i < points.y.length; i++) this.#step(first + i, points, i, events)
    return events
  }

  close(): { readonly events: readonly ExamineEvent[]; readonly stretches: readonly Stretch[] } {
    const events: ExamineEvent[] = []
    if (this.#open !== undefined) this.#settle(this.#ring.last, 'track', events)
    return { events, stretches: this.#stretches }
  }

  #step(at: number, { x, y, scale, coating }: TrackPoints, i: number, events: ExamineEvent[]): void {
    const ring = this.#ring
    ring.push(at, x[i]!, y[i]!, scale[i]!, coating[i]!)
    const open = this.#open
    if (open !== undefined) {
      open.x.push(x[i]!)
      open.y.push(y[i]!)
      open.scale.push(scale[i]!)
      open.coating.push(coating[i]!)
    }
    if (!ring.holds(at - 2 * this.#reach)) return
    const middle = at - this.#reach
    const edge = (y[i]! - ring.y(at - 2 * this.#reach)) / ring.scale(middle)
    if (open === undefined) this.#look(middle, edge, events)
    else this.#follow(open, { at, middle, edge }, events)
  }

  /** On the plate: an edge opens a stretch. */
  #look(middle: number, edge: number, events: ExamineEvent[]): void {
    if (!(Math.abs(edge) >= this.#screen)) return
    const sense = edge > 0 ? 1 : -1
    const before = this.#ring.mean(middle - this.#reach, middle)
    const drawnFrom = Math.max(this.#ring.firstHeld, middle - DRAWN_BEFORE * this.#reach)
    const held = this.#ring.from(drawnFrom)
    this.#opened++
    const id = `c${this.#opened}`
    const level = Math.abs(edge)
    const at = this.#ring.last
    this.#open = { id, from: middle, sense, before, rise: level, peak: at, flat: 0, drawnFrom, ...held }
    events.push({ kind: 'opened', id, ruler: at, matched: level })
  }

  /** Off the plate: until it lies flat near the null before, or flat for so long that it is another plate. */
  #follow(
    open: Open,
    { at, middle, edge }: { readonly at: number; readonly middle: number; readonly edge: number },
    events: ExamineEvent[]
  ): void {
    // either way: what opened the stretch may be noise, and what stands in it may point against it
    const stands = Math.abs(this.#ring.y(at) - open.before.y) / this.#ring.scale(at)
    if (stands > open.rise) {
      open.rise = stands
      open.peak = at
    }
    open.flat = Math.abs(edge) < this.#screen ? open.flat + 1 : 0
    if (open.flat < this.#flat) {
      this.#bound(open, at, events)
      return
    }
    const after = this.#ring.mean(middle, at)
    const off = Math.abs(after.y - open.before.y) / this.#ring.scale(middle)
    if (off <= Math.max(this.#screen, this.#numbers.returned * open.rise)) this.#settle(middle, 'back', events)
    else if (open.flat >= this.#level) this.#settle(middle, 'step', events)
    else this.#bound(open, at, events)
  }

  #bound({ y }: Open, at: number, events: ExamineEvent[]): void {
    if (y.length >= MOST_POINTS) this.#settle(at, 'step', events)
  }

  #settle(to: number, ended: Stretch['ended'], events: ExamineEvent[]): void {
    const open = this.#open!
    this.#open = undefined
    if (ended === 'back' && open.rise < this.#worth) {
      events.push({ kind: 'withdrawn', id: open.id, reason: 'came back and never stood out by what counts' })
      return
    }
    this.#kept += open.y.length
    if (this.#stretches.length >= MOST_STRETCHES || this.#kept > MOST_KEPT) {
      this.overflow = true
      return
    }
    const after = this.#ring.mean(this.#ring.last - this.#reach, this.#ring.last)
    const { id, from, sense, before, rise: level, peak, drawnFrom, x, y, scale, coating } = open
    const kept = { x, y, scale, coating }
    this.#stretches.push({
      ...{ id, from, to, sense, before, after, ended, peak, level, drawnFrom },
      ...kept
    })
    events.push({ kind: 'settled', id, ruler: peak, matched: level })
  }
}
