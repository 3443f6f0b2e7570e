import { elementsOf, UNIT } from './band.ts'
import { EVEN_MARGIN, evenWeight, LEAST_KNOT, placeEven } from './even.kernel.ts'
import { type Placed, placedRoom, placeUneven } from './placing.kernel.ts'
import type { SampleLine } from './sample-line.ts'
import type { Stretch, Turned } from './turn.ts'

/** Elements times knot (samples) that are looked at for their effective number of samples: it hardly differs among them. */
const LOOKED_AT = 6

/**
 * Places turns on the ruler: UNIT/step elements each, from the samples of a line and the marks alone. Where all samples
 * are sound those of the turn lie evenly, which is quick; the first elements, into which the turn before reaches with
 * another speed, and turns in which samples are missing are placed sample by sample.
 */
export class Placer {
  readonly #knot: number
  readonly #step: number
  readonly #halves: number
  readonly #elements: number
  /** the turn placed last, and the one before it */
  #newest: Placed
  #older: Placed
  #at = new Float64Array(0)
  #x = new Float64Array(0)
  #y = new Float64Array(0)
  #copied = 0

  /** @param knot distance between the spline's knots, points */
  constructor(knot: number, step: number) {
    const elements = elementsOf(step)
    if (elements * step !== UNIT) throw new RangeError(`no whole number of elements ${step} points apart`)
    this.#knot = knot
    this.#step = step
    this.#elements = elements
    const halves = (2 * knot) / step
    this.#halves = Number.isInteger(halves) ? halves : 0
    this.#newest = placedRoom(elements)
    this.#older = placedRoom(elements)
  }

  /** How many samples beyond a turn's end it has to wait for. */
  samplesBeyond({ own }: Turned): number {
    return (2 * this.#knot * own.period) / UNIT + EVEN_MARGIN
  }

  /** The first sample that a turn may need. */
  firstNeeded({ a, before }: Turned): number {
    return Math.floor(a.at - (2 * this.#knot * before.period) / UNIT) - 1
  }

  /** What is placed holds until the next turn but one is. */
  place(line: SampleLine, turn: Turned): Placed {
    const out = this.#older
    this.#older = this.#newest
    this.#newest = out
    const even = this.#evenFrom(line, turn)
    out.alike = even
    if (even > 0) this.#placeUneven(line, turn, even, out)
    if (even < this.#elements) this.#placeEven(line, turn, even, out)
    return out
  }

  /** From which element on the samples of a turn lie evenly, without a fault; the number of elements where they don't. */
  #evenFrom(line: SampleLine, { a, b, own: { period } }: Turned): number {
    const reach = 2 * this.#knot
    const n = Math.min(this.#elements, Math.ceil(reach / this.#step))
    const first = a.at + ((n * this.#step - reach) * period) / UNIT - EVEN_MARGIN
    const end = b.at + ((reach - this.#step) * period) / UNIT + EVEN_MARGIN
    if (first < line.pending.first || end >= line.judged) return this.#elements
    const sound = !line.isFaulty(Math.floor(first), Math.ceil(end))
    return sound && reach * period >= 2 * LEAST_KNOT * UNIT ? n : this.#elements
  }

  #placeEven({ pending }: SampleLine, { a, own }: Turned, from: number, out: Placed): void {
    const perPoint = own.period / UNIT
    const sample = Math.floor(a.at)
    const start = sample - pending.base
    const origin = a.at - sample
    const stride = this.#step * perPoint
    const knot = this.#knot * perPoint
    const to = this.#elements
    placeEven(pending, { start, origin, stride, knot, halves: this.#halves, from, to }, out)
    const looked = Math.min(to - from, Math.ceil(LOOKED_AT / knot))
    let noise = 0
    for (let k = 0; k < looked; k++) {
      const n = from + Math.floor(((k + 0.5) * (to - from)) / looked)
      noise += 1 / evenWeight(origin + n * stride, knot)
    }
    out.weight.fill(looked / noise, from)
  }

  /** The elements before number `to`, from one copy of the sound samples around them. */
  #placeUneven(line: SampleLine, turn: Turned, to: number, out: Placed): void {
    const { a, b, own } = turn
    const first = Math.max(line.pending.first, this.firstNeeded(turn))
    const reached = a.at + ((to * this.#step + 2 * this.#knot) * own.period) / UNIT
    const last = Math.min(line.judged, Math.ceil(reached) + 1)
    const [begin, end] = [Math.ceil(a.at), Math.ceil(b.at)]
    this.#roomFor(last - first)
    this.#copied = 0
    this.#copySound(line, turn.before, first, Math.min(begin, last))
    this.#copySound(line, own, Math.max(begin, first), Math.min(end, last))
    this.#copySound(line, turn.beyond, Math.max(end, first), last)
    const samples = { at: this.#at, x: this.#x, y: this.#y, from: 0, to: this.#copied }
    placeUneven(samples, { origin: own.origin, step: this.#step, from: 0, to, knot: this.#knot }, out)
  }

  #copySound(line: SampleLine, stretch: Stretch, first: number, to: number): void {
    let from = first
    for (const fault of line.faults) {
      if (fault.to <= from) continue
      if (fault.from >= to) break
      this.#copy(line, stretch, from, fault.from)
      from = fault.to
    }
    this.#copy(line, stretch, from, to)
  }

  #copy({ pending }: SampleLine, { origin, at, period }: Stretch, from: number, to: number): void {
    const { base, x, y } = pending
    const [toAt, toX, toY] = [this.#at, this.#x, this.#y]
    let n = this.#copied
    for (let i = from; i < to; i++, n++) {
      toAt[n] = origin + ((i - at) / period) * UNIT
      toX[n] = x[i - base]!
      toY[n] = y[i - base]!
    }
    this.#copied = n
  }

  #roomFor(samples: number): void {
    if (samples <= this.#at.length) return
    this.#at = new Float64Array(2 * samples)
    this.#x = new Float64Array(2 * samples)
    this.#y = new Float64Array(2 * samples)
  }
}
