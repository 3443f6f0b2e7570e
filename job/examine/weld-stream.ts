import { countMagnitudes, magnitudeHistogram, magnitudeQuantile, median } from '@trueloop/ground/numerics'
import { isRefusal } from '@trueloop/ground/refusal'
import { type ExamineEvent, StretchTracker } from '../interpret/index.ts'
import { type TrackUnit, UNIT } from '../signal/index.ts'
import type { Unusable } from './coverage.ts'
import { type Channels, Extent } from './extent.ts'

/** Levels are counted from −RANGE to +RANGE, 1 = the named slot. */
const RANGE = 16
const levelHistogram = () => magnitudeHistogram({ max: 2 * RANGE, bins: 65_536 })
const noiseHistogram = () => magnitudeHistogram({ max: RANGE, bins: 65_536 })
/** From the median size of the difference of two normal values to the deviation of one: 1/(0.67449·√2). */
const DIFFERENCE_TO_DEVIATION = 1.0483580553655434
const MOST_UNUSABLE = 4096

/** What one run along a track leaves behind while samples stream. */
export class TrackStream {
  readonly tracker: StretchTracker
  readonly levels = levelHistogram()
  /** stretches of ruler points that can't be used */
  readonly unusable: Unusable[] = []
  provisional = 0
  /** the last field width of the unit before, at most */
  #before = new Float64Array(0)
  readonly #noise = noiseHistogram()
  speed = { least: Number.POSITIVE_INFINITY, most: 0, sum: 0, units: 0 }
  #known = false
  #events: ExamineEvent[] = []

  readonly screen: number
  /** width of the field in ruler points */
  readonly field: number
  readonly #moved = { x: new Extent(), y: new Extent() }

  /** @param field width of the field in ruler points */
  constructor(screen: number, field: number) {
    this.tracker = new StretchTracker(screen)
    this.screen = screen
    this.field = field
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

  judge({ number, empty, speed }: TrackUnit, most: number): void {
    for (const point of empty) this.#mark(point, point + 1, 'no sample on the track')
    if (speed > 0) {
      this.speed.least = Math.min(this.speed.least, speed)
      this.speed.most = Math.max(this.speed.most, speed)
      this.speed.sum += speed
      this.speed.units++
    }
    if (speed > most) this.#mark(number * UNIT, (number + 1) * UNIT, 'faster than the technique allows')
  }

  /** @param sound 1 where samples made the point, 0 where it was only filled in */
  take(
    signal: { readonly first: number; readonly x: Float64Array; readonly y: Float64Array },
    sound: Uint8Array
  ): void {
    const seen = signal.y.filter((_, i) => sound[i] === 1)
    if (!this.#known && seen.length > 0) {
      this.provisional = median(seen)
      this.#known = true
    }
    const y = signal.y.map((value) => value - this.provisional)
    countMagnitudes(
      this.levels,
      y.filter((_, i) => sound[i] === 1).map((value) => Math.max(0, value + RANGE))
    )
    this.#countDifferences(y.map((value, i) => (sound[i] === 1 ? value : Number.NaN)))
    this.#events.push(...this.tracker.take(signal.first, signal.x, y))
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

  /** Level of the sound track above the provisional null, and the robust spread around it of one field from the next. */
  background(): { readonly level: number; readonly spread: number } {
    const level = quantileOr(this.levels, 0.5, RANGE) - RANGE
    return { level, spread: DIFFERENCE_TO_DEVIATION * quantileOr(this.#noise, 0.5, RANGE) }
  }

  /** How far below its own null the track goes; on sound plate not by a flaw's height. */
  lowest(): number {
    return quantileOr(this.levels, LOWEST_SHARE, RANGE) - quantileOr(this.levels, 0.5, RANGE)
  }

  #mark(from: number, to: number, reason: string): void {
    const last = this.unusable.at(-1)
    if (last !== undefined && (this.unusable.length >= MOST_UNUSABLE || (last.to >= from && last.reason === reason))) {
      this.unusable[this.unusable.length - 1] = { ...last, to: Math.max(last.to, to) }
      return
    }
    this.unusable.push({ from, to, reason })
  }
}

/** Share of the track that may lie lower for other reasons than a null that is none: edges, spikes. */
const LOWEST_SHARE = 0.002

function quantileOr(histogram: ReturnType<typeof levelHistogram>, p: number, otherwise: number): number {
  const value = magnitudeQuantile(histogram, p)
  return isRefusal(value) ? otherwise : value
}
