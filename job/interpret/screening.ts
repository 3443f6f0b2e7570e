import { giveBack, outgrown } from '@trueloop/ground/numerics'
import { joinRows, UNIT } from '../signal/index.ts'
import { CandidateTracker } from './candidates.ts'
import type { Covariance } from './covariance.ts'
import type { ExamineEvent } from './event.ts'
import { type Form, rangeOf, screenLevels } from './screen.kernel.ts'
import type { SheetBuilder } from './sheet.ts'
import { swing } from './swing.kernel.ts'

export interface ScreeningRule {
  /** covariance of the fitted size on the clear wall of the reference, of one revolution and joined */
  readonly noise: { readonly single: Covariance; readonly joined: Covariance }
  /** deviations from which on a place is kept, of one revolution and joined */
  readonly screen: { readonly single: number; readonly joined: number }
  readonly weights: Float64Array
  /** direction of the named notch: what the sign of a size is taken along */
  readonly direction: { readonly x: number; readonly y: number }
  /** the technique's alarm as vertical peak-to-peak, standardized, within ± half ruler points */
  readonly alarm: number
  readonly half: number
}

/**
 * Screens a sheet while it grows: a place is kept when its size on one revolution, or joined over several, stands out of
 * the noise of the reference scan, or when the alarm is crossed. What is kept here can be judged at the close; what is not
 * kept lies below every threshold that can be set then.
 */
export class Screening {
  /** joined sizes, columns as long as the sheet's */
  jx = new Float64Array(0)
  jy = new Float64Array(0)
  readonly tracker: CandidateTracker
  readonly #rule: ScreeningRule
  readonly #sheet: SheetBuilder
  readonly #forms: { readonly single: Form; readonly joined: Form }
  readonly #half: number
  readonly #reach: number
  readonly #level: Float64Array
  readonly #size: Float64Array
  /** ruler points that were screened */
  range: { from: number; to: number } | undefined

  constructor(rule: ScreeningRule, sheet: SheetBuilder) {
    this.#rule = rule
    this.#sheet = sheet
    this.#half = Math.ceil(rule.half / sheet.step)
    this.#reach = rule.weights.length - 1
    this.#level = new Float64Array(sheet.perTurn)
    this.#size = new Float64Array(sheet.perTurn)
    this.#forms = {
      single: formOf(rule.noise.single, rule.screen.single),
      joined: formOf(rule.noise.joined, rule.screen.joined)
    }
    this.tracker = new CandidateTracker({ swing: rule.alarm, unit: UNIT })
  }

  /** Looks at what the newest unit of the sheet lets see; `dropped` units at its beginning were given up for it. */
  take(dropped: number): readonly ExamineEvent[] {
    this.#follow(dropped)
    const { units, perTurn } = this.#sheet
    this.#join(units - 1 - this.#reach)
    if (units < 2) return []
    const to = units * perTurn - this.#half
    return this.#screen(to - perTurn, to)
  }

  /** Joins and looks at what has no neighbors beyond it any more. */
  end(): readonly ExamineEvent[] {
    const events: ExamineEvent[] = []
    const { units, perTurn } = this.#sheet
    for (let unit = Math.max(0, units - this.#reach); unit < units; unit++) {
      this.#join(unit)
      events.push(...this.#screenLate(unit * perTurn, (unit + 1) * perTurn))
    }
    return events
  }

  /** The joined sizes hold no longer. */
  release(): void {
    giveBack(this.jx)
    giveBack(this.jy)
    this.jx = this.jy = new Float64Array(0)
  }

  #follow(dropped: number): void {
    const { perTurn, x } = this.#sheet
    if (this.jx.length < x.length) {
      this.jx = outgrown(this.jx, x.length)
      this.jy = outgrown(this.jy, x.length)
    }
    if (dropped === 0) return
    this.jx.copyWithin(0, dropped * perTurn)
    this.jy.copyWithin(0, dropped * perTurn)
  }

  #join(unit: number): void {
    if (unit < 0) return
    const { perTurn, length, cx, cy } = this.#sheet
    const where = { perTurn, length, from: unit * perTurn, to: (unit + 1) * perTurn }
    joinRows(cx, this.#rule.weights, this.jx, where)
    joinRows(cy, this.#rule.weights, this.jy, where)
  }

  #screen(from: number, to: number): readonly ExamineEvent[] {
    const { first, step, cx, cy, y, perTurn } = this.#sheet
    const start = first + from * step
    const end = first + to * step
    this.range = { from: this.range?.from ?? start, to: end }
    const lag = this.#reach * perTurn
    const single = { x: cx, y: cy }
    const joined = { x: this.jx, y: this.jy }
    const most = screenLevels(single, joined, this.#forms, { lag, out: this.#level, from, to })
    const moved = rangeOf(y, from - this.#half, to + this.#half)
    const crossed = moved >= this.#rule.alarm
    if (most < 1 && !crossed) return this.tracker.skip(start, end)
    this.#sizes(from, to, crossed ? 0 : 1)
    const around = crossed ? swing(y, this.#half, { from, to }) : undefined
    return this.tracker.take({ first: start, step, level: this.#level, size: this.#size, swing: around })
  }

  /** Joined sizes of the last revolutions, taken as if the probe had gone on: so they come in the order of the ruler. */
  #screenLate(from: number, to: number): readonly ExamineEvent[] {
    const { first, step, perTurn } = this.#sheet
    const joined = { x: this.jx, y: this.jy }
    const none = { single: NOTHING, joined: this.#forms.joined }
    const most = screenLevels(joined, joined, none, { lag: 0, out: this.#level, from, to })
    const start = first + (from + this.#reach * perTurn) * step
    if (most < 1) return this.tracker.skip(start, start + perTurn * step)
    this.#sizes(from, to, 1)
    return this.tracker.take({ first: start, step, level: this.#level, size: this.#size, swing: undefined })
  }

  /** Sizes of the places that reach the level `least`. */
  #sizes(from: number, to: number, least: number): void {
    const { cx, cy } = this.#sheet
    const { direction } = this.#rule
    const [level, sizes] = [this.#level, this.#size]
    for (let i = from; i < to; i++) {
      if (level[i - from]! < least) continue
      const x = cx[i]!
      const y = cy[i]!
      const along = x * direction.x + y * direction.y
      const size = Math.sqrt(x * x + y * y)
      sizes[i - from] = along < 0 ? -size : size
    }
  }
}

const NOTHING: Form = { xx: 0, xy: 0, yy: 0 }

/** The inverse covariance over the squared screen. Without noise everything that is not zero stands out. */
function formOf({ xx, xy, yy }: Covariance, screen: number): Form {
  const det = xx * yy - xy * xy
  if (!(det > 0)) return { xx: Number.MAX_VALUE, xy: 0, yy: Number.MAX_VALUE }
  const by = 1 / (det * screen * screen)
  return { xx: yy * by, xy: -2 * xy * by, yy: xx * by }
}
