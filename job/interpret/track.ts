import type { ExamineEvent } from './event.ts'

/** A stretch of track whose vertical signal stayed above the screen. */
export interface Stretch {
  readonly id: string
  readonly from: number
  readonly to: number
  /** ruler point of the peak and the level there, above the provisional null */
  readonly peak: number
  readonly level: number
  /** standardized signal over the stretch, one element a ruler point, bounded */
  readonly x: readonly number[]
  readonly y: readonly number[]
}

const MOST_STRETCHES = 4000
const MOST_POINTS = 8192

interface Open {
  id: string
  from: number
  to: number
  peak: number
  level: number
  x: number[]
  y: number[]
}

/** Follows stretches above the screen along a track, point by point in the order of travel. */
export class StretchTracker {
  overflow = false
  readonly #screen: number
  readonly #stretches: Stretch[] = []
  #open: Open | undefined

  /** @param screen level above the provisional null, 1 = the named slot */
  constructor(screen: number) {
    this.#screen = screen
  }

  /** @param y vertical signal less the provisional null; `x`, `y` from ruler point `first` on */
  take(first: number, x: Float64Array, y: Float64Array): readonly ExamineEvent[] {
    const events: ExamineEvent[] = []
    for (let i = 0; i < y.length; i++) {
      if (y[i]! < this.#screen) this.#settle(events)
      else this.#grow({ at: first + i, x: x[i]!, y: y[i]! }, events)
    }
    return events
  }

  close(): { readonly events: readonly ExamineEvent[]; readonly stretches: readonly Stretch[] } {
    const events: ExamineEvent[] = []
    this.#settle(events)
    return { events, stretches: this.#stretches }
  }

  #grow(point: { readonly at: number; readonly x: number; readonly y: number }, events: ExamineEvent[]): void {
    if (this.#open === undefined) {
      const id = `c${this.#stretches.length + 1}`
      this.#open = { id, from: point.at, to: point.at, peak: point.at, level: point.y, x: [], y: [] }
      events.push({ kind: 'opened', id, ruler: point.at, matched: point.y })
    }
    const open = this.#open
    open.to = point.at
    if (point.y > open.level) {
      open.level = point.y
      open.peak = point.at
    }
    if (open.x.length < MOST_POINTS) {
      open.x.push(point.x)
      open.y.push(point.y)
    }
  }

  #settle(events: ExamineEvent[]): void {
    const open = this.#open
    if (open === undefined) return
    this.#open = undefined
    if (this.#stretches.length >= MOST_STRETCHES) {
      this.overflow = true
      return
    }
    this.#stretches.push(open)
    events.push({ kind: 'settled', id: open.id, ruler: open.peak, matched: open.level })
  }
}
