import { countMagnitudes, magnitudeHistogram, magnitudeQuantile } from '@trueloop/ground/numerics'
import { isRefusal } from '@trueloop/ground/refusal'
import { type ExamineEvent, type FollowRule, StretchTracker, type TrackPoints } from '../interpret/index.ts'
import { type TrackUnit, type Turn, UNIT } from '../signal/index.ts'
import type { Unusable } from './coverage.ts'
import { type Channels, Extent } from './extent.ts'
import type { CoatingUnder } from './weld-coating.ts'

/** Differences are counted up to this, 1 = the alarm slot. */
const RANGE = 4
/** Fine enough that a probe in air, at a twentieth of the noise, is not taken for one on a plate. */
const BINS = 262_144
/** From the median size of a normal value less the mean of two others to the deviation of one: 1/(0.67449·√1.5). */
const DIFFERENCE_TO_DEVIATION = 1.21053964228569
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
  /** the last two field widths of the unit before, at most */
  #before = new Float64Array(0)
  readonly #noise = magnitudeHistogram({ max: RANGE, bins: BINS })
  #events: ExamineEvent[] = []
  #begun = false
  #held: { readonly first: number; readonly points: TrackPoints }[] = []
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
    this.#follow(first, { x, y, scale, coating }, sound)
  }

  /**
   * Hands on what samples made, and what was bridged between them; what was only held before the first sample and behind
   * the last is no track.
   */
  #follow(first: number, points: TrackPoints, sound: Uint8Array): void {
    const last = sound.lastIndexOf(1)
    if (last < 0) {
      if (this.#begun) this.#held.push({ first, points })
      return
    }
    const from = this.#begun ? 0 : sound.indexOf(1)
    this.#begun = true
    for (const held of this.#held) this.#events.push(...this.tracker.take(held.first, held.points))
    this.#events.push(...this.tracker.take(first + from, partOf(points, from, last + 1)))
    this.#held =
      last + 1 < sound.length ? [{ first: first + last + 1, points: partOf(points, last + 1, sound.length) }] : []
  }

  /** From the mean one field width before and behind: noise against which a flaw stands out, without what the plate drifts. */
  #countDifferences(y: Float64Array): void {
    const joined = new Float64Array(this.#before.length + y.length)
    joined.set(this.#before)
    joined.set(y, this.#before.length)
    const { field } = this
    const count = Math.max(0, joined.length - 2 * field)
    const beside = (i: number): number => 0.5 * (joined[i]! + joined[i + 2 * field]!)
    const differences = Float64Array.from({ length: count }, (_, i) => joined[i + field]! - beside(i))
    countMagnitudes(
      this.#noise,
      differences.filter((value) => !Number.isNaN(value))
    )
    this.#before = joined.slice(-2 * field)
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

const partOf = ({ x, y, scale, coating }: TrackPoints, from: number, to: number): TrackPoints => ({
  x: x.subarray(from, to),
  y: y.subarray(from, to),
  scale: scale.subarray(from, to),
  coating: coating.subarray(from, to)
})
