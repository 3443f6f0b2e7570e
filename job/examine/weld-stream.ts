import { countMagnitudes, magnitudeHistogram, magnitudeQuantile } from '@trueloop/ground/numerics'
import { isRefusal } from '@trueloop/ground/refusal'
import { type ExamineEvent, type FollowRule, StretchTracker } from '../interpret/index.ts'
import { type TrackUnit, type Turn, UNIT } from '../signal/index.ts'
import type { Unusable } from './coverage.ts'
import { type Channels, Extent } from './extent.ts'
import type { CoatingUnder } from './weld-coating.ts'

/** Differences are counted up to this, 1 = the alarm slot. */
const RANGE = 4
/** Fine enough that a probe in air, at a twentieth of the noise, is not taken for one on a plate. */
const BINS = 262_144
/** From the median size of the difference of two normal values to the deviation of one: 1/(0.67449·√2). */
const DIFFERENCE_TO_DEVIATION = 1.0483580553655434
const MOST_UNUSABLE = 4096
/** A speed is told from the samples of a short stretch to about a part in fifty. */
const SPEED_MARGIN = 1.02

interface Columns {
  readonly first: number
  readonly x: Float64Array
  readonly y: Float64Array
}

/** What one run along a track leaves behind while samples stream. */
export class TrackStream {
  readonly tracker: StretchTracker
  /** stretches of ruler points that can't be used */
  readonly unusable: Unusable[] = []
  /** width of the field in ruler points */
  readonly field: number
  speed = { least: Number.POSITIVE_INFINITY, most: 0, sum: 0, units: 0 }
  /** the last field width of the unit before, at most */
  #before = new Float64Array(0)
  readonly #noise = magnitudeHistogram({ max: RANGE, bins: BINS })
  #events: ExamineEvent[] = []
  readonly #moved = { x: new Extent(), y: new Extent() }

  /** size of the factor from recorded to standardized units */
  readonly turnSize: number

  constructor(rule: FollowRule, turn: Turn) {
    this.tracker = new StretchTracker(rule)
    this.field = rule.field
    this.turnSize = Math.sqrt(turn.x * turn.x + turn.y * turn.y)
  }

  /** How far each recorded channel moved over the whole run. */
  get channels(): Channels {
    return { x: this.#moved.x.width, y: this.#moved.y.width }
  }

  /** Follows the recorded signal where samples made it. */
  follow({ x, y }: { readonly x: Float64Array; readonly y: Float64Array }, sound: Uint8Array): void {
    this.#moved.x.take(x.filter((_, i) => sound[i] === 1))
    this.#moved.y.take(y.filter((_, i) => sound[i] === 1))
  }

  events(): readonly ExamineEvent[] {
    const events = this.#events
    this.#events = []
    return events
  }

  judge({ number, empty, speed, speeds }: TrackUnit, most: number): void {
    for (const point of empty) this.mark({ from: point, to: point + 1, reason: 'no sample on the track' })
    if (speed > 0) {
      this.speed.sum += speed
      this.speed.units++
    }
    const width = UNIT / speeds.length
    speeds.forEach((one, k) => {
      if (!(one > 0)) return
      this.speed.least = Math.min(this.speed.least, one)
      this.speed.most = Math.max(this.speed.most, one)
      if (one <= most * SPEED_MARGIN) return
      const from = number * UNIT + k * width
      this.mark({ from, to: from + width, reason: 'faster than the technique allows' })
    })
  }

  /** @param sound 1 where samples made the point, 0 where it was only filled in */
  take({ first, x, y }: Columns, { coating, scale, outside }: CoatingUnder, sound: Uint8Array): void {
    for (const { from, to, reason } of outside) this.mark({ from: first + from, to: first + to, reason })
    this.#countDifferences(y.map((value, i) => (sound[i] === 1 ? value / scale[i]! : Number.NaN)))
    this.#events.push(...this.tracker.take(first, { x, y, scale, coating }))
  }

  /** Differences over one field width: noise against which a flaw stands out, without the slow drift along the track. */
  #countDifferences(y: Float64Array): void {
    const joined = new Float64Array(this.#before.length + y.length)
    joined.set(this.#before)
    joined.set(y, this.#before.length)
    const count = Math.max(0, joined.length - this.field)
    const differences = Float64Array.from({ length: count }, (_, i) => joined[i + this.field]! - joined[i]!)
    countMagnitudes(
      this.#noise,
      differences.filter((value) => !Number.isNaN(value))
    )
    this.#before = joined.slice(-this.field)
  }

  /** Robust spread of the sound track, of one field from the next, 1 = the alarm slot under the local coating. */
  spread(): number {
    const value = magnitudeQuantile(this.#noise, 0.5)
    return DIFFERENCE_TO_DEVIATION * (isRefusal(value) ? RANGE : value)
  }

  mark({ from, to, reason }: Unusable): void {
    const near = this.unusable.findLast((one) => one.reason === reason)
    if (near !== undefined && (this.unusable.length >= MOST_UNUSABLE || near.to >= from)) {
      this.unusable[this.unusable.lastIndexOf(near)] = { ...near, to: Math.max(near.to, to) }
      return
    }
    this.unusable.push({ from, to, reason })
  }
}
