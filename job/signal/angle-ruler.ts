import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { Segment } from '../scan/index.ts'
import { type Band, bandReach, knotSpacing, UNIT } from './band.ts'
import { refuse } from './codes.ts'
import type { DropLog } from './drops.ts'
import { type Mark, MarkTracker } from './marks.ts'
import { Pending } from './pending.ts'
import { LEAST_LIKENESS, PeriodFinder } from './period.ts'
import { placeUnit } from './placing.kernel.ts'
import { type Block, copyOf, TimeLine } from './timeline.ts'
import { finishUnit, type Unit } from './unit.ts'

export interface AngleSource {
  readonly rate_Hz: number
  /** nominal speed, revolutions a second, and its tolerance as a share */
  readonly speed_Hz: number
  readonly tolerance: number
  /** whether the recording has an index channel */
  readonly indexed: boolean
  readonly band: Band
}

export interface Turning {
  readonly marks: Readonly<Record<'seen' | 'filled' | 'lost' | 'bounced' | 'doubled', number>>
  readonly fromSignal: boolean
  /** how well the wall repeated, where turns came from the signal; 1 = exactly */
  readonly likeness: number
  readonly speed: { readonly least: number; readonly mean: number; readonly most: number }
  readonly samples: number
  /** samples that stood at a limit of the recording */
  readonly clipped: number
}

/** A placed revolution; `samples` made it, `lost` says that its marks were too far apart to trust. */
export interface Revolution extends Unit<'angle'> {
  readonly samples: number
  readonly lost: boolean
  /** samples within it that could not be read */
  readonly unread: number
  /** encoder position at its beginning, m, where the recording has one */
  readonly position?: number
}

/** Where the next turn begins, in samples and on the ruler, and how the samples into it are counted on. */
interface NextTurn {
  readonly at: number
  readonly origin: number
  readonly period: number
  readonly reach: number
}

type Sink = (revolution: Revolution) => Result<void>

/**
 * The ruler of a hole: recorded segments in, placed revolutions out (512 points each, in order, without a seam: the
 * ruler is one continuous angle). Each revolution is placed once from one contiguous copy of samples.
 * Refuses `signal/too-short` (fewer than two whole turns), `signal/band-beyond-sampling`, `signal/no-period`,
 * `signal/gap-too-long`.
 */
export class AngleRuler {
  readonly #source: AngleSource
  readonly #drops: DropLog
  readonly #sink: Sink
  readonly #line: TimeLine
  readonly #marks: MarkTracker
  readonly #period: PeriodFinder
  readonly #pending = new Pending()
  readonly #knot: number
  #held: Block[] | undefined
  #fromSignal: boolean
  #copy = { at: new Float64Array(0), x: new Float64Array(0), y: new Float64Array(0) }
  /** sample number of `pending.from` */
  #base = 0
  #turns: Mark[] = []
  /** samples before this one have a coordinate */
  #known = 0
  #next = 0
  #count = 0
  #before = { x: 0, y: 0 }
  #speed = { least: Number.POSITIVE_INFINITY, most: 0, turns: 0, samples: 0 }

  constructor(source: AngleSource, drops: DropLog, sink: Sink) {
    this.#source = source
    this.#drops = drops
    this.#sink = sink
    this.#line = new TimeLine(source.rate_Hz, drops, (block) => this.#block(block))
    const nominal = source.rate_Hz / source.speed_Hz
    this.#marks = new MarkTracker(nominal)
    this.#period = new PeriodFinder(nominal, source.tolerance)
    this.#knot = knotSpacing(source.band)
    this.#fromSignal = !source.indexed
    this.#held = source.indexed ? [] : undefined
  }

  take(segment: Segment): Result<void> {
    return this.#line.take(segment)
  }

  end(): Result<Turning> {
    const ended = this.#line.end()
    if (isRefusal(ended)) return ended
    const rest = this.#fromSignal ? undefined : this.#accept(this.#marks.end())
    if (isRefusal(rest)) return rest
    if (this.#marks.noMarks && !this.#fromSignal) {
      const switched = this.#switch()
      if (isRefusal(switched)) return switched
    }
    const finished = this.#finish()
    return isRefusal(finished) ? finished : this.#turning()
  }

  #block(block: Block): Result<void> {
    if (this.#fromSignal) return this.#turnFromSignal(block)
    this.#pending.push(block)
    this.#held?.push(copyOf(block))
    const due = this.#placeDue()
    if (isRefusal(due)) return due
    const marks = this.#marks.take(block.first, block.index ?? new Float64Array(block.x.length))
    if (marks.length > 0) this.#held = undefined
    if (this.#marks.noMarks) return this.#switch()
    return this.#accept(marks)
  }

  /** The index channel never answered: begin again from the first sample, with turns from the signal. */
  #switch(): Result<void> {
    this.#fromSignal = true
    const held = this.#held ?? []
    this.#held = undefined
    this.#pending.from = 0
    this.#pending.to = 0
    for (const block of held) {
      const turned = this.#turnFromSignal(block)
      if (isRefusal(turned)) return turned
    }
  }

  #turnFromSignal(block: Block): Result<void> {
    this.#pending.push(block)
    const due = this.#placeDue()
    if (isRefusal(due)) return due
    return this.#accept(this.#period.take(block.first, block.x, block.y, block.ok))
  }

  #accept(marks: readonly Mark[]): Result<void> {
    for (const mark of marks) {
      const before = this.#place(this.#count - 1)
      if (isRefusal(before)) return before
      this.#turns.push(mark)
      this.#count++
      if (this.#count < 2) continue
      this.#coordinates(this.#turns.at(-2)!, this.#turns.at(-1)!, this.#count === 2)
      const placed = this.#placeDue()
      if (isRefusal(placed)) return placed
    }
  }

  /** Places the newest whole turn as soon as the samples are here that reach into it from beyond its end. */
  #placeDue(): Result<void> {
    const turns = this.#count - 1
    if (this.#next >= turns) return
    const [a, b] = this.#marksOf(turns - 1)
    const beyond = b.at + (2 * this.#knot * (b.at - a.at)) / UNIT
    const end = this.#base + (this.#pending.to - this.#pending.from)
    return end > beyond ? this.#place(turns) : undefined
  }

  /** Gives coordinates to the samples up to mark b; to those before mark a as well when a is the first of all. */
  #coordinates(a: Mark, b: Mark, first: boolean): void {
    const turn = first ? 0 : this.#count - 2
    const period = b.at - a.at
    if (first) this.#lead(a)
    this.#speedOf(period, b.kind === 'seen' && a.kind === 'seen')
    this.#fill(Math.ceil(b.at), { origin: turn * UNIT, at: a.at, period })
  }

  #lead(first: Mark): void {
    const samples = Math.ceil(first.at)
    if (samples > 0) this.#drops.add({ from: 0, to: samples, unit: 'sample', samples, reason: 'before the first turn' })
  }

  #fill(end: number, from: { readonly origin: number; readonly at: number; readonly period: number }): void {
    const { origin, at, period } = from
    const p = this.#pending
    const base = this.#base
    const to = Math.min(p.to - p.from, end - base)
    const column = p.at
    for (let i = this.#known - base, k = p.from + i; i < to; i++, k++) {
      column[k] = origin + ((base + i - at) / period) * UNIT
    }
    this.#known = Math.max(this.#known, base + to)
  }

  #speedOf(period: number, trusted: boolean): void {
    this.#speed.turns++
    this.#speed.samples += period
    if (!trusted && !this.#fromSignal) return
    this.#speed.least = Math.min(this.#speed.least, this.#source.rate_Hz / period)
    this.#speed.most = Math.max(this.#speed.most, this.#source.rate_Hz / period)
  }

  /** Places every whole turn up to number `turns` that has not been placed yet. */
  #place(turns: number): Result<void> {
    while (this.#next < turns) {
      const sent = this.#send(this.#next)
      if (isRefusal(sent)) return sent
      this.#next++
    }
  }

  #send(turn: number): Result<void> {
    const p = this.#pending
    const from = turn * UNIT
    const reach = 2 * this.#knot
    const known = p.from + (this.#known - this.#base)
    this.#forget(from - reach, known)
    const [a, b] = this.#marksOf(turn)
    const samples = b.at - a.at
    const sampled = this.#contiguous(known, { at: b.at, origin: from + UNIT, period: samples, reach })
    const placed = placeUnit({ ...sampled, from: 0 }, from, this.#knot)
    const unit = finishUnit(placed, 'angle', { number: turn, before: this.#before })
    this.#before = { x: unit.signal.x[UNIT - 1]!, y: unit.signal.y[UNIT - 1]! }
    if (bandReach(this.#source.band) > 0.4 * samples) return beyond(this.#source.band, samples, turn)
    const lost = b.kind === 'lost' || a.kind === 'lost'
    const inside = this.#inside(from, known)
    this.#note(unit, lost, inside.unread)
    const position = !Number.isNaN(inside.position) ? { position: inside.position } : {}
    return this.#sink({ ...unit, samples, lost, unread: inside.unread, ...position })
  }

  /** What the samples of the revolution itself say: how many can't be read, and the encoder where it begins. */
  #inside(from: number, known: number): { readonly unread: number; readonly position: number } {
    const { at, ok, position: encoder, from: start } = this.#pending
    let unread = 0
    let position = Number.NaN
    for (let i = start; i < known && at[i]! < from + UNIT; i++) {
      if (at[i]! < from) continue
      if (ok[i] === 0) unread++
      if (Number.isNaN(position)) position = encoder[i]!
    }
    return { unread, position }
  }

  #note(unit: Unit<'angle'>, lost: boolean, unread: number): void {
    const at = { from: unit.number, to: unit.number + 1, unit: 'revolution' as const }
    if (lost) this.#drops.add({ ...at, samples: 0, reason: 'index marks lost' })
    if (unread > 0) this.#drops.add({ ...at, samples: unread, reason: 'samples that could not be read' })
    if (unit.hollow > 0)
      this.#drops.add({ ...at, samples: unit.hollow, reason: 'no sample for a part of the revolution' })
  }

  /**
   * Sound samples in one copy, so that the kernel sees nothing of how they arrived. Those beyond the turn's own end count
   * on at its own speed: what comes later changes nothing in it.
   */
  #contiguous(known: number, next: NextTurn) {
    const p = this.#pending
    const { at, x, y } = this.#roomFor(p.to - p.from)
    const end = next.origin + next.reach
    const sample = this.#base - p.from
    let n = 0
    for (let i = p.from; i < p.to; i++) {
      const place = i < known ? p.at[i]! : next.origin + ((sample + i - next.at) / next.period) * UNIT
      if (place >= end) break
      if (p.ok[i] !== 1) continue
      at[n] = place
      x[n] = p.x[i]!
      y[n] = p.y[i]!
      n++
    }
    return { at, x, y, to: n }
  }

  #roomFor(samples: number) {
    if (samples > this.#copy.at.length) {
      const size = 2 * samples
      this.#copy = { at: new Float64Array(size), x: new Float64Array(size), y: new Float64Array(size) }
    }
    return this.#copy
  }

  #forget(before: number, known: number): void {
    const p = this.#pending
    const { at, from } = p
    let n = 0
    while (from + n < known && at[from + n]! <= before) n++
    p.from += n
    this.#base += n
  }

  #marksOf(turn: number): readonly [Mark, Mark] {
    const oldest = this.#count - this.#turns.length
    const pair: readonly [Mark, Mark] = [this.#turns[turn - oldest]!, this.#turns[turn - oldest + 1]!]
    if (turn - oldest > 4) this.#turns.splice(0, turn - oldest - 2)
    return pair
  }

  /** The last whole revolutions, with coordinates beyond the last mark drawn out at its own speed. */
  #finish(): Result<void> {
    const whole = this.#count - 1
    if (whole < 2) return this.#tooShort(whole)
    if (this.#fromSignal && this.#period.likeness < LEAST_LIKENESS) return noPeriod()
    const a = this.#turns.at(-2)!
    const b = this.#turns.at(-1)!
    this.#tails(b)
    this.#fill(Number.MAX_SAFE_INTEGER, { origin: whole * UNIT, at: b.at, period: b.at - a.at })
    return this.#place(whole)
  }

  #tails(last: Mark): void {
    const end = this.#base + (this.#pending.to - this.#pending.from)
    const tail = Math.max(0, end - Math.ceil(last.at))
    const reason = 'after the last turn'
    if (tail > 0) this.#drops.add({ from: end - tail, to: end, unit: 'sample', samples: tail, reason })
  }

  #tooShort(whole: number): Result<void> {
    return refuse('signal/too-short', {
      found: `${Math.max(0, whole)} whole turns in ${this.#line.samples} samples`,
      needed: 'at least two whole turns of the probe',
      remedy: 'record longer, or check the index channel, the speed and the sample rate in the job sheet'
    })
  }

  #turning(): Turning {
    const { least, most, turns, samples } = this.#speed
    const mean = samples > 0 ? (this.#source.rate_Hz * turns) / samples : 0
    return {
      marks: { ...this.#marks.counts },
      fromSignal: this.#fromSignal,
      likeness: this.#period.likeness,
      speed: { least: most > 0 ? least : mean, mean, most: most > 0 ? most : mean },
      samples: this.#line.samples,
      clipped: this.#line.clipping.samples()
    }
  }
}

const noPeriod = () =>
  refuse('signal/no-period', {
    found: 'no index pulse, and nothing in the signal that repeats from revolution to revolution',
    needed: 'an index channel, or a wall that shows the turn',
    remedy: 'name the index channel in the job sheet, or record with an index pulse'
  })

const beyond = (band: Band, samples: number, turn: number) =>
  refuse('signal/band-beyond-sampling', {
    found: `${samples.toFixed(1)} samples in revolution ${turn + 1}`,
    needed: `${(bandReach(band) / 0.4).toFixed(1)} for a band that reaches ${bandReach(band).toFixed(1)} cycles per revolution`,
    remedy: 'record at a higher sample rate or a lower speed, or state a narrower band in the technique'
  })
