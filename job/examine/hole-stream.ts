import { countMagnitudes, type MagnitudeHistogram, magnitudeHistogram } from '@trueloop/ground/numerics'
import type { Result } from '@trueloop/ground/refusal'
import { CandidateTracker, type ExamineEvent, screened } from '../interpret/index.ts'
import {
  type ConditionedRevolution,
  type DropLog,
  type Revolution,
  type Signal,
  standardized,
  UNIT
} from '../signal/index.ts'
import { matchedWeights, type Standardization } from '../standardize/index.ts'
import type { Unusable } from './coverage.ts'
import type { EncoderTrace } from './depth.ts'
import { type Channels, Extent } from './extent.ts'
import { MeanTraceBuilder } from './mean-trace.ts'
import { PictureBuilder } from './picture.ts'
import { WallMotion } from './wall-motion.ts'

export interface StreamRule {
  readonly standardization: Standardization
  readonly screen: { readonly matched: number; readonly swing: number }
  /** nominal samples per revolution and tolerance of the speed */
  readonly speed: { readonly samples: number; readonly tolerance: number }
}

const MOST_STRETCHES = 4096
const MOST_ENCODER = 8192
/** Points between which the sliding mean hardly moves. */
const MEAN_STEP = 16
/** Share of the reference step between which the probe is taken to be in the metal, for noise only. */
const IN_METAL = { least: 0.8, most: 1.25 }

/**
 * What one pass through the hole leaves behind while samples stream: candidates, the mean, noise counts, what can't be
 * used. Bounded in memory; works unit by unit in ruler order, so that cutting the recording changes nothing.
 */
export class HoleStream {
  readonly matchedNoise: MagnitudeHistogram = magnitudeHistogram({ max: 4, bins: 8192 })
  readonly wall: WallMotion
  readonly trace = new MeanTraceBuilder()
  readonly picture = new PictureBuilder()
  readonly tracker: CandidateTracker
  readonly unusable: Unusable[] = []
  readonly encoder: { revolution: number[]; position_m: number[] } & EncoderTrace = { revolution: [], position_m: [] }
  revolutions = 0
  inMetal = 0
  /** ruler points that were screened */
  range: { from: number; to: number } | undefined
  readonly #rule: StreamRule
  readonly #drops: DropLog
  readonly #weights: Float64Array
  #air: { x: number; y: number } | undefined
  #events: ExamineEvent[] = []

  constructor(rule: StreamRule, drops: DropLog) {
    this.#rule = rule
    this.#drops = drops
    this.#weights = matchedWeights(rule.standardization.form)
    this.wall = new WallMotion(rule.standardization)
    this.tracker = new CandidateTracker({ ...rule.screen, unit: UNIT })
  }

  events(): readonly ExamineEvent[] {
    const events = this.#events
    this.#events = []
    return events
  }

  /** Judges a placed revolution by what its samples say; takes the encoder along. */
  revolution(revolution: Revolution): void {
    const { number } = revolution
    this.revolutions++
    const reasons = this.#reasons(revolution)
    if (reasons.length > 0) this.#mark({ from: number, to: number + 1, reason: reasons.join('; ') })
    if (revolution.position === undefined || this.encoder.revolution.length >= MOST_ENCODER) return
    this.encoder.revolution.push(number)
    this.encoder.position_m.push(revolution.position)
  }

  #reasons({ number, lost, hollow, unread, samples }: Revolution): readonly string[] {
    const { samples: nominal, tolerance } = this.#rule.speed
    const reasons: string[] = []
    if (lost) reasons.push('index marks lost')
    if (hollow > 0 || unread > 0) reasons.push('samples missing')
    const speed = nominal / samples
    if (Math.abs(speed - 1) > tolerance) {
      reasons.push('speed out of tolerance')
      this.#drops.add({
        from: number,
        to: number + 1,
        unit: 'revolution',
        samples: 0,
        reason: 'speed out of tolerance'
      })
    }
    return reasons
  }

  #mark(stretch: Unusable): void {
    const last = this.unusable.at(-1)
    const same = last !== undefined && last.to >= stretch.from && last.reason === stretch.reason
    if (same || this.unusable.length >= MOST_STRETCHES) {
      this.unusable[this.unusable.length - 1] = { ...last!, to: stretch.to }
      return
    }
    this.unusable.push(stretch)
  }

  take(unit: ConditionedRevolution): Result<void> {
    this.trace.add(unit.signal.first, unit.mean)
    this.#follow(unit.placed)
    const now = { signal: standardized(unit.signal, this.#rule.standardization.turn), metal: this.#isInMetal(unit) }
    if (now.metal) this.wall.add(unit)
    const before = this.#before
    this.#before = now
    if (before !== undefined) this.#screen(before, now)
  }

  #before: Screenable | undefined
  readonly #moved = { x: new Extent(), y: new Extent() }

  /** How far each recorded channel moved over the whole pass. */
  get channels(): Channels {
    return { x: this.#moved.x.width, y: this.#moved.y.width }
  }

  #follow({ x, y }: ConditionedRevolution['placed']): void {
    this.#moved.x.take(x)
    this.#moved.y.take(y)
  }

  #isInMetal({ mean }: ConditionedRevolution): boolean {
    this.#air ??= { x: average(mean.x), y: average(mean.y) }
    const { airStep, turn } = this.#rule.standardization
    const square = airStep.x * airStep.x + airStep.y * airStep.y
    for (let i = 0; i < UNIT; i += MEAN_STEP) {
      const x = this.#air.x - mean.x[i]!
      const y = this.#air.y - mean.y[i]!
      const share = ((x * turn.x - y * turn.y) * airStep.x + (x * turn.y + y * turn.x) * airStep.y) / square
      if (!(share >= IN_METAL.least && share <= IN_METAL.most)) return false
    }
    this.inMetal++
    return true
  }

  /** Screens what the newest two units let see. */
  #screen(before: Screenable, now: Screenable): void {
    const seen = screened([before.signal, now.signal], this.#weights)
    this.range = { from: this.range?.from ?? seen.first, to: seen.first + seen.matched.length }
    if (before.metal && now.metal) countMagnitudes(this.matchedNoise, seen.matched)
    this.picture.add(seen.first, seen.matched)
    this.#events.push(...this.tracker.take(seen))
  }
}

/** A standardized unit, and whether the probe was in the metal all along it. */
interface Screenable {
  readonly signal: Signal<'standardized', 'angle'>
  readonly metal: boolean
}

const average = (values: Float64Array): number => values.reduce((sum, value) => sum + value, 0) / values.length
