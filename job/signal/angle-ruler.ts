import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { Segment } from '../scan/index.ts'
import { type Band, bandReach, knotSpacing } from './band.ts'
import { refuse } from './codes.ts'
import type { DropLog } from './drops.ts'
import { type Mark, MarkTracker } from './marks.ts'
import { LEAST_LIKENESS, PeriodFinder } from './period.ts'
import { Placer } from './placer.ts'
import { SampleLine } from './sample-line.ts'
import { blockOf } from './timeline.ts'
import { type Turned, turned } from './turn.ts'
import { finishUnit, type Unit } from './unit.ts'

export interface AngleSource {
  readonly rate_Hz: number
  /** nominal speed, revolutions a second, and its tolerance as a share */
  readonly speed_Hz: number
  readonly tolerance: number
  /** whether the recording has an index channel */
  readonly indexed: boolean
  readonly band: Band
  /** ruler points from one placed element to the next: 1 (when absent), 2, 4 or 8 */
  readonly step?: number
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

/**
 * A placed revolution of UNIT/step elements, the i-th at ruler point `first + i·step`; `samples` made it, `lost` says that
 * its marks were too far apart to trust. Its columns hold until the next revolution but one comes: who keeps them, copies.
 */
export interface Revolution extends Unit<'angle'> {
  readonly samples: number
  readonly lost: boolean
  /** samples within it that could not be read */
  readonly unread: number
  /** encoder position at its beginning, m, where the recording has one */
  readonly position?: number
}

type Sink = (revolution: Revolution) => Result<void>

/**
 * The ruler of a hole: recorded segments in, placed revolutions out (UNIT/step elements each, in order, without a seam:
 * the ruler is one continuous angle). Each revolution is placed once, from samples and marks alone.
 * Refuses `signal/too-short` (fewer than two whole turns), `signal/band-beyond-sampling`, `signal/no-period`,
 * `signal/gap-too-long`.
 */
export class AngleRuler {
  readonly #source: AngleSource
  readonly #drops: DropLog
  readonly #sink: Sink
  readonly #line: SampleLine
  readonly #marks: MarkTracker
  readonly #period: PeriodFinder
  readonly #placer: Placer
  #fromSignal: boolean
  #last: Mark | undefined
  /** the newest turn, and those that have not been placed yet, in order */
  #turn: Turned | undefined
  #waiting: Turned[] = []
  /** sample that has to be judged before the newest of them is placed */
  #due = Number.POSITIVE_INFINITY
  #turns = 0
  #before = { x: 0, y: 0 }
  #speed = { least: Number.POSITIVE_INFINITY, most: 0, turns: 0, samples: 0 }

  constructor(source: AngleSource, drops: DropLog, sink: Sink) {
    this.#source = source
    this.#drops = drops
    this.#sink = sink
    this.#line = new SampleLine(source.rate_Hz, drops, (from, to) => this.#block(from, to))
    const nominal = source.rate_Hz / source.speed_Hz
    this.#marks = new MarkTracker(nominal)
    this.#period = new PeriodFinder(nominal, source.tolerance)
    this.#placer = new Placer(knotSpacing(source.band), source.step ?? 1)
    this.#fromSignal = !source.indexed
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
    this.#line.pending.release()
    return isRefusal(finished) ? finished : this.#turning()
  }

  #block(from: number, to: number): Result<void> {
    if (this.#fromSignal) return this.#turnFromSignal(from, to)
    const due = this.#placeDue()
    if (isRefusal(due)) return due
    const { base, index } = this.#line.pending
    const marks =
      index === undefined
        ? this.#marks.take(from, new Float64Array(to - from))
        : this.#marks.take(from, index, { from: from - base, to: to - base })
    if (this.#marks.noMarks) return this.#switch()
    return marks.length > 0 ? this.#accept(marks) : undefined
  }

  /** The index channel never answered: begin again from the first sample, with turns from the signal. */
  #switch(): Result<void> {
    this.#fromSignal = true
    return this.#turnFromSignal(0, this.#line.judged)
  }

  #turnFromSignal(from: number, to: number): Result<void> {
    const due = this.#placeDue()
    if (isRefusal(due)) return due
    const { x, y, ok } = blockOf(this.#line, from, to)
    return this.#accept(this.#period.take(from, x, y, ok))
  }

  #accept(marks: readonly Mark[]): Result<void> {
    for (const mark of marks) {
      const before = this.#placeAll()
      if (isRefusal(before)) return before
      const last = this.#last
      this.#last = mark
      if (last === undefined) continue
      if (this.#turn === undefined) this.#lead(last)
      this.#turn = turned(last, mark, this.#turn)
      this.#waiting.push(this.#turn)
      this.#due = mark.at + this.#placer.samplesBeyond(this.#turn)
      this.#turns++
      this.#speedOf(this.#turn)
      const placed = this.#placeDue()
      if (isRefusal(placed)) return placed
    }
  }

  /** Places the newest whole turn as soon as the samples are here that reach into it from beyond its end. */
  #placeDue(): Result<void> {
    return this.#line.judged > this.#due ? this.#placeAll() : undefined
  }

  #lead(first: Mark): void {
    const samples = Math.ceil(first.at)
    if (samples > 0) this.#drops.add({ from: 0, to: samples, unit: 'sample', samples, reason: 'before the first turn' })
  }

  #speedOf({ a, b, own: { period } }: Turned): void {
    this.#speed.turns++
    this.#speed.samples += period
    if ((a.kind !== 'seen' || b.kind !== 'seen') && !this.#fromSignal) return
    this.#speed.least = Math.min(this.#speed.least, this.#source.rate_Hz / period)
    this.#speed.most = Math.max(this.#speed.most, this.#source.rate_Hz / period)
  }

  /** Places every whole turn that has not been placed yet. */
  #placeAll(): Result<void> {
    while (this.#waiting.length > 0) {
      const sent = this.#send(this.#waiting[0]!)
      if (isRefusal(sent)) return sent
      this.#waiting.shift()
    }
    this.#due = Number.POSITIVE_INFINITY
  }

  #send(turn: Turned): Result<void> {
    const { number, a, b, own } = turn
    const samples = own.period
    if (bandReach(this.#source.band) > 0.4 * samples) return beyond(this.#source.band, samples, number)
    this.#line.forget(this.#placer.firstNeeded(turn))
    const { signal, hollow, noiseGain } = finishUnit(this.#placer.place(this.#line, turn), 'angle', {
      number,
      before: this.#before
    })
    this.#before = { x: signal.x[signal.x.length - 1]!, y: signal.y[signal.y.length - 1]! }
    const lost = b.kind === 'lost' || a.kind === 'lost'
    const unread = this.#unread(turn)
    this.#note({ number, hollow }, lost, unread)
    const position = this.#position(turn)
    const revolution = { number, signal, hollow, noiseGain, samples, lost, unread }
    return this.#sink(position === undefined ? revolution : { ...revolution, position })
  }

  /** How many samples of a turn can't be read. */
  #unread({ a, b }: Turned): number {
    if (this.#line.faults.length === 0) return 0
    const [from, to] = [Math.ceil(a.at), Math.ceil(b.at)]
    let unread = 0
    for (const fault of this.#line.faults) {
      if (fault.kind === 'unreadable') unread += Math.max(0, Math.min(to, fault.to) - Math.max(from, fault.from))
    }
    return unread
  }

  /** The encoder where a turn begins. */
  #position({ a, b }: Turned): number | undefined {
    const { position, base, end } = this.#line.pending
    if (position === undefined) return undefined
    const to = Math.min(end, Math.ceil(b.at)) - base
    for (let i = Math.ceil(a.at) - base; i < to; i++) if (!Number.isNaN(position[i]!)) return position[i]!
    return undefined
  }

  #note(unit: Pick<Revolution, 'number' | 'hollow'>, lost: boolean, unread: number): void {
    const at = { from: unit.number, to: unit.number + 1, unit: 'revolution' as const }
    if (lost) this.#drops.add({ ...at, samples: 0, reason: 'index marks lost' })
    if (unread > 0) this.#drops.add({ ...at, samples: unread, reason: 'samples that could not be read' })
    if (unit.hollow > 0)
      this.#drops.add({ ...at, samples: unit.hollow, reason: 'no sample for a part of the revolution' })
  }

  #finish(): Result<void> {
    if (this.#turns < 2) return this.#tooShort()
    if (this.#fromSignal && this.#period.likeness < LEAST_LIKENESS) return noPeriod()
    this.#tails(this.#last!)
    return this.#placeAll()
  }

  #tails(last: Mark): void {
    const { end } = this.#line.pending
    const tail = Math.max(0, end - Math.ceil(last.at))
    const reason = 'after the last turn'
    if (tail > 0) this.#drops.add({ from: end - tail, to: end, unit: 'sample', samples: tail, reason })
  }

  #tooShort(): Result<void> {
    return refuse('signal/too-short', {
      found: `${this.#turns} whole turns in ${this.#line.samples} samples`,
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
