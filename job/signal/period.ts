import type { Mark } from './marks.ts'

/** Points a nominal revolution at which the period is looked for. */
const POINTS = 128
const WINDOW = 4
/** Least correlation of the signal with itself a turn later that counts as the turn. Common practice, no source. */
export const LEAST_LIKENESS = 0.5

/**
 * Turns from the signal itself, where no index pulse exists: what the wall repeats from revolution to revolution
 * (run-out, ovality, roughness) gives the period by its autocorrelation. Angles are then relative to an unknown datum,
 * and where nothing repeats (in air) the last period is kept. `likeness` tells how well it repeated at best.
 */
export class PeriodFinder {
  likeness = 0
  readonly #step: number
  readonly #tolerance: number
  #x: number[] = []
  #y: number[] = []
  #start = 0
  #sum = { x: 0, y: 0, n: 0, of: 0 }
  #last = Number.NaN
  #period: number
  readonly #nominal: number

  /** @param nominal samples per revolution; @param tolerance largest deviation of the speed, as a share */
  constructor(nominal: number, tolerance: number) {
    this.#step = Math.max(1, Math.floor(nominal / POINTS))
    this.#nominal = nominal / this.#step
    this.#period = this.#nominal
    this.#tolerance = Math.min(0.45, tolerance)
  }

  take(first: number, x: Float64Array, y: Float64Array, ok: Uint8Array): readonly Mark[] {
    const marks: Mark[] = []
    if (Number.isNaN(this.#last)) this.#last = first / this.#step
    for (let i = 0; i < x.length; i++) {
      const sum = this.#sum
      if (ok[i] === 1) {
        sum.x += x[i]!
        sum.y += y[i]!
        sum.n++
      }
      if (++sum.of < this.#step) continue
      this.#x.push(sum.n > 0 ? sum.x / sum.n : (this.#x.at(-1) ?? 0))
      this.#y.push(sum.n > 0 ? sum.y / sum.n : (this.#y.at(-1) ?? 0))
      this.#sum = { x: 0, y: 0, n: 0, of: 0 }
      this.#advance(marks)
    }
    return marks
  }

  /** One more turn once the window that begins at the last one is full. */
  #advance(marks: Mark[]): void {
    const need = this.#last + WINDOW * this.#nominal * (1 + this.#tolerance)
    if (this.#start + this.#x.length < need) return
    if (marks.length === 0 && this.#start === 0 && this.#last === 0) marks.push({ at: 0, kind: 'from the signal' })
    this.#period = this.#find() ?? this.#period
    this.#last += this.#period
    marks.push({ at: this.#last * this.#step, kind: 'from the signal' })
    const old = Math.floor(this.#last) - this.#start - 2
    if (old > 0) {
      this.#x.splice(0, old)
      this.#y.splice(0, old)
      this.#start += old
    }
  }

  #find(): number | undefined {
    const from = Math.max(0, Math.floor(this.#last) - this.#start)
    const x = this.#x.slice(from)
    const y = this.#y.slice(from)
    const least = Math.floor(this.#nominal * (1 - this.#tolerance))
    const most = Math.ceil(this.#nominal * (1 + this.#tolerance))
    const scores: number[] = []
    for (let lag = least; lag <= most; lag++) scores.push(likeness(x, y, lag))
    let best = 0
    for (let k = 1; k < scores.length; k++) if (scores[k]! > scores[best]!) best = k
    this.likeness = Math.max(this.likeness, scores[best]!)
    if (scores[best]! < LEAST_LIKENESS) return undefined
    return least + best + vertex(scores, best)
  }
}

/** Correlation of a complex series with itself `lag` later, each part less its own mean: −1 to 1. */
function likeness(x: readonly number[], y: readonly number[], lag: number): number {
  const n = x.length - lag
  let ax = 0
  let ay = 0
  let bx = 0
  let by = 0
  for (let i = 0; i < n; i++) {
    ax += x[i]!
    ay += y[i]!
    bx += x[i + lag]!
    by += y[i + lag]!
  }
  let aa = 0
  let bb = 0
  let ab = 0
  for (let i = 0; i < n; i++) {
    const px = x[i]! - ax / n
    const py = y[i]! - ay / n
    const qx = x[i + lag]! - bx / n
    const qy = y[i + lag]! - by / n
    aa += px * px + py * py
    bb += qx * qx + qy * qy
    ab += px * qx + py * qy
  }
  return aa > 0 && bb > 0 ? ab / Math.sqrt(aa * bb) : 0
}

/** Offset of the vertex of the parabola through three neighbors, within half a step. */
function vertex(values: readonly number[], at: number): number {
  const before = values[at - 1]
  const after = values[at + 1]
  if (before === undefined || after === undefined) return 0
  const bend = before - 2 * values[at]! + after
  return bend < 0 ? (0.5 * (before - after)) / bend : 0
}
