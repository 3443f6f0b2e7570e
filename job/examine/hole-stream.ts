import type { Result } from '@trueloop/ground/refusal'
import { type Covariance, type ExamineEvent, Screening, SheetBuilder } from '../interpret/index.ts'
import { type DropLog, elementsOf, type Revolution, type ScannedUnit } from '../signal/index.ts'
import type { Standardization } from '../standardize/index.ts'
import type { Unusable } from './coverage.ts'
import type { EncoderTrace } from './depth.ts'
import { type Channels, Extent } from './extent.ts'
import { MeanTraceBuilder, MOST_TRACED } from './mean-trace.ts'
import { WallMotion } from './wall-motion.ts'

export interface StreamRule {
  readonly standardization: Standardization
  /** ruler points from one element to the next */
  readonly step: number
  readonly noise: { readonly single: Covariance; readonly joined: Covariance }
  readonly screen: { readonly single: number; readonly joined: number }
  /** by which neighboring revolutions are joined */
  readonly weights: Float64Array
  /** direction of the named notch */
  readonly direction: { readonly x: number; readonly y: number }
  /** the alarm as vertical peak-to-peak */
  readonly alarm: number
  /** nominal samples per revolution and tolerance of the speed */
  readonly speed: { readonly samples: number; readonly tolerance: number }
  /** passes through the metal whose wall motion is kept apart */
  readonly passes: number
  /** least share of an answer that is left in this hole: the step from air to metal is smaller by no more */
  readonly left: number
}

const MOST_STRETCHES = 4096
const MOST_ENCODER = 8192
/** Ruler points between which the sliding mean hardly moves. */
const MEAN_STEP = 64
/** Share of the reference step between which the probe is taken to be in the metal, for noise only. */
const IN_METAL = { least: 0.8, most: 1.25 }
/** Share of it below which the probe is taken to be in air. */
const IN_AIR = 0.25

/**
 * What one pass through the hole leaves behind while samples stream: its sheet, candidates, the mean, what can't be used.
 * Bounded in memory; works unit by unit in ruler order, so that cutting the recording changes nothing.
 */
export class HoleStream {
  readonly sheet: SheetBuilder
  readonly screening: Screening
  /** motion of the wall in each pass through the metal, with air between */
  readonly walls: WallMotion[]
  readonly trace = new MeanTraceBuilder()
  readonly unusable: Unusable[] = []
  readonly encoder: { revolution: number[]; position_m: number[] } & EncoderTrace = { revolution: [], position_m: [] }
  revolutions = 0
  inMetal = 0
  readonly #rule: StreamRule
  readonly #drops: DropLog
  readonly #moved = { x: new Extent(), y: new Extent() }
  #air: { x: number; y: number } | undefined
  #left = false
  #events: ExamineEvent[] = []

  constructor(rule: StreamRule, drops: DropLog) {
    this.#rule = rule
    this.#drops = drops
    this.sheet = new SheetBuilder({ step: rule.step, perTurn: elementsOf(rule.step), most: MOST_TRACED })
    const { noise, screen, weights, direction, alarm, standardization } = rule
    const { half } = standardization.form
    this.screening = new Screening({ noise, screen, weights, direction, alarm, half }, this.sheet)
    this.walls = [new WallMotion(standardization)]
  }

  events(): readonly ExamineEvent[] {
    const events = this.#events
    this.#events = []
    return events
  }

  /** Ruler points that were screened. */
  get range(): { readonly from: number; readonly to: number } | undefined {
    return this.screening.range
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

  take(unit: ScannedUnit): Result<void> {
    this.trace.add(unit.first, unit.step, unit.mean)
    this.#moved.x.take(unit.placed.x)
    this.#moved.y.take(unit.placed.y)
    this.#addWall(unit)
    this.#say(this.screening.take(this.sheet.append(unit)))
  }

  /** Looks at what has no neighbors beyond it any more. */
  end(): void {
    this.#say(this.screening.end())
  }

  /** Gives its columns back once the examination is closed: nothing of what was built from them may be read any more. */
  release(): void {
    this.trace.release()
    this.sheet.release()
    this.screening.release()
    for (const wall of this.walls) wall.release()
  }

  #say(events: readonly ExamineEvent[]): void {
    for (const event of events) this.#events.push(event)
  }

  /** Least share of an answer that is left in this hole. */
  get left(): number {
    return this.#rule.left
  }

  /** How far each recorded channel moved over the whole pass. */
  get channels(): Channels {
    return { x: this.#moved.x.width, y: this.#moved.y.width }
  }

  #addWall(unit: ScannedUnit): void {
    const { metal, air } = this.#placeOf(unit)
    if (air && this.walls.at(-1)!.counted > 0) this.#left = true
    if (!metal) return
    this.inMetal++
    if (this.#left && this.walls.length < this.#rule.passes) this.walls.push(new WallMotion(this.#rule.standardization))
    this.#left = false
    this.walls.at(-1)!.add(unit)
  }

  #placeOf({ mean, step }: ScannedUnit): { readonly metal: boolean; readonly air: boolean } {
    this.#air ??= { x: average(mean.x), y: average(mean.y) }
    const { left, standardization } = this.#rule
    const { airStep, turn } = standardization
    const square = airStep.x * airStep.x + airStep.y * airStep.y
    let [metal, air] = [true, true]
    for (let i = 0; i < mean.x.length && (metal || air); i += MEAN_STEP / step) {
      const x = this.#air.x - mean.x[i]!
      const y = this.#air.y - mean.y[i]!
      const share = ((x * turn.x - y * turn.y) * airStep.x + (x * turn.y + y * turn.x) * airStep.y) / square
      metal &&= share >= IN_METAL.least * left && share <= IN_METAL.most
      air &&= share <= IN_AIR * left
    }
    return { metal, air }
  }
}

const average = (values: Float64Array): number => values.reduce((sum, value) => sum + value, 0) / values.length
