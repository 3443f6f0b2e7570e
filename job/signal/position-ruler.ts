import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { Segment } from '../scan/index.ts'
import { type Band, knotSpacing, UNIT } from './band.ts'
import { ClipWatch } from './clipping.ts'
import { refuse } from './codes.ts'
import type { DropLog } from './drops.ts'
import { placedRoom, placeUneven } from './placing.kernel.ts'
import { StandWatch, type Stood } from './standing.ts'
import { copyOf, TimeLine } from './timeline.ts'
import { noPosition, type PlaceBasis, type Placed, TrackPlaces } from './track-places.ts'
import { finishUnit, type Unit } from './unit.ts'

export interface PositionSource {
  readonly rate_Hz: number
  /** distance of two ruler points, m */
  readonly step_m: number
  readonly band: Band
  /** an encoder where nothing else is said */
  readonly places?: PlaceBasis
  /** shortest run that is one: the width of the field; that of the placing kernel where nothing is said */
  readonly least_m?: number
}

/** One placed unit of track: 512 points, with the mean speed over it, m/s, and which points no sample reached. */
export interface TrackUnit extends Unit<'position'> {
  readonly speed: number
  /** the same over each eighth of the unit, 0 where fewer than two samples fell on it */
  readonly speeds: readonly number[]
  readonly empty: readonly number[]
  /** absolute channel placed alike, `[512]`; NaN where no sample is near; absent where there is no such channel */
  readonly absolute?: Float64Array
  /** samples that fell on each point, `[512]` */
  readonly counts: Float64Array
}

export interface Travel {
  readonly samples: number
  readonly clipped: number
  /** samples of the absolute channel at a limit of the recording */
  readonly absoluteClipped: number
  /** +1 when position grows with time */
  readonly sense: 1 | -1
  /** ruler points of the first and the last sample */
  readonly from: number
  readonly to: number
  readonly stood: readonly Stood[]
}

/** An encoder that leaps by more ruler points than this between two samples is not believed. */
const LONGEST_JUMP = 4 * UNIT
/** A leap farther than this between two samples is held until the next one says whether it was one: more than a field. */
const LEAP = UNIT / 16
/** Farther behind than this the position runs back; nearer it only trembles by a step of the encoder. */
const TREMBLE = 1.5
const EIGHTHS = 8

type Sink = (unit: TrackUnit) => Result<void>

interface Sample {
  readonly sample: number
  readonly at: number
  readonly x: number
  readonly y: number
  readonly a: number
}

/**
 * The ruler of a track: recorded segments in, placed units of 512 points out, in the order of travel. A ruler point n lies
 * at n·step along the travel (position times sense). Samples that run back, or leap and come back, are left out and logged.
 * Refuses `signal/no-position`, `signal/too-short`, `signal/gap-too-long`, `signal/marks-differ`.
 */
export class PositionRuler {
  readonly #source: PositionSource
  readonly #drops: DropLog
  readonly #sink: Sink
  readonly #line: TimeLine
  readonly #places: TrackPlaces
  readonly #knot: number
  readonly #stands: StandWatch
  readonly #absolute = new ClipWatch()
  #hasAbsolute = false
  #at: number[] = []
  #x: number[] = []
  #y: number[] = []
  #a: number[] = []
  #sense: 1 | -1 | undefined
  #first: number | undefined
  #start = Number.NaN
  #most = Number.NEGATIVE_INFINITY
  #next: number | undefined
  #before: { x: number; y: number } | undefined
  #waiting: Placed[] = []
  #leapt: Sample | undefined

  constructor(source: PositionSource, drops: DropLog, sink: Sink) {
    this.#source = source
    this.#drops = drops
    this.#sink = sink
    this.#knot = knotSpacing(source.band)
    this.#stands = new StandWatch(source.rate_Hz)
    this.#places = new TrackPlaces(source.places ?? { by: 'encoder' }, source.rate_Hz, drops)
    this.#line = new TimeLine(source.rate_Hz, drops, (block) => this.#blocks(this.#places.take(block)))
  }

  take(segment: Segment): Result<void> {
    return this.#line.take(segment)
  }

  /** +1 when position grows with time; known from the first unit on. */
  get sense(): 1 | -1 {
    return this.#sense ?? 1
  }

  end(): Result<Travel> {
    const ended = this.#line.end()
    if (isRefusal(ended)) return ended
    const placed = this.#places.end()
    if (isRefusal(placed)) return placed
    if (this.#sense === undefined) return noPosition('a position that never changes')
    if (this.#leapt !== undefined) this.#leaveOut(this.#leapt.sample, 'position jumped')
    const last = this.#most
    while (this.#next! * UNIT <= last) {
      const sent = this.#send()
      if (isRefusal(sent)) return sent
    }
    const { step_m, least_m = 0 } = this.#source
    const length = last - this.#start
    if (length < 2 * this.#knot || length * step_m < least_m) return tooShort(length * step_m)
    return {
      samples: this.#line.samples,
      clipped: this.#line.clipping.samples(),
      absoluteClipped: this.#absolute.samples() / 2,
      sense: this.#sense,
      from: this.#start,
      to: last,
      stood: this.#stands.stood
    }
  }

  #blocks(blocks: Result<readonly Placed[]>): Result<void> {
    if (isRefusal(blocks)) return blocks
    for (const block of blocks) {
      const done = this.#block(block)
      if (isRefusal(done)) return done
    }
  }

  #block(block: Placed): Result<void> {
    if (this.#sense !== undefined) return this.#add(block)
    this.#waiting.push(copyOf(block) as Placed)
    this.#findSense(block)
    if (this.#sense === undefined) return
    const held = this.#waiting
    this.#waiting = []
    for (const one of held) {
      const added = this.#add(one)
      if (isRefusal(added)) return added
    }
  }

  /** The sense of travel is that of the first movement by a whole ruler step. */
  #findSense({ position }: Placed): void {
    for (const value of position) {
      if (Number.isNaN(value)) continue
      this.#first ??= value
      const moved = value - this.#first
      if (Math.abs(moved) >= this.#source.step_m) {
        this.#sense = moved > 0 ? 1 : -1
        return
      }
    }
  }

  #add({ first, x, y, ok, position, absolute }: Placed): Result<void> {
    const perStep = this.#sense! / this.#source.step_m
    if (absolute !== undefined) {
      this.#hasAbsolute = true
      this.#absolute.take(absolute, absolute)
    }
    for (let i = 0; i < x.length; i++) {
      const at = position[i]! * perStep
      if (ok[i] !== 1 || Number.isNaN(at)) continue
      const done = this.#judge({ sample: first + i, at, x: x[i]!, y: y[i]!, a: absolute?.[i] ?? Number.NaN })
      if (isRefusal(done)) return done
    }
  }

  #judge(one: Sample): Result<void> {
    if (this.#next === undefined) {
      this.#next = Math.floor(one.at / UNIT)
      this.#start = one.at
      return this.#accept(one)
    }
    const leapt = this.#leapt
    this.#leapt = undefined
    if (leapt !== undefined) {
      if (Math.abs(one.at - leapt.at) <= LEAP && leapt.at <= this.#most + LONGEST_JUMP) {
        const accepted = this.#accept(leapt)
        if (isRefusal(accepted)) return accepted
      } else this.#leaveOut(leapt.sample, 'position jumped')
    }
    if (one.at > this.#most + LEAP) {
      this.#leapt = one
      return
    }
    if (one.at < this.#most) this.#leaveOut(one.sample, 'position ran back')
    if (one.at < this.#most - TREMBLE) this.#stands.forget()
    else if (one.at <= this.#most) this.#stands.stand(one.x, one.y)
    if (one.at >= this.#most) return this.#accept(one)
  }

  #accept({ at, x, y, a }: Sample): Result<void> {
    if (at > this.#most) this.#stands.advance(this.#most, this.#most > this.#start)
    this.#most = at
    this.#at.push(at)
    this.#x.push(x)
    this.#y.push(y)
    this.#a.push(a)
    while (at > (this.#next! + 1) * UNIT + 2 * this.#knot) {
      const sent = this.#send()
      if (isRefusal(sent)) return sent
    }
  }

  #leaveOut(sample: number, reason: string): void {
    this.#drops.add({ from: sample, to: sample + 1, unit: 'sample', samples: 1, reason })
  }

  #send(): Result<void> {
    const number = this.#next!
    const origin = number * UNIT
    const at = Float64Array.from(this.#at)
    const samples = { at, x: Float64Array.from(this.#x), y: Float64Array.from(this.#y), from: 0, to: at.length }
    const placed = placedRoom(UNIT)
    placeUneven(samples, { origin, step: 1, from: 0, to: UNIT, knot: this.#knot }, placed)
    const empty: number[] = []
    placed.weight.forEach((weight, n) => {
      if (weight === 0) empty.push(origin + n)
    })
    const unit = finishUnit(placed, 'position', { number, before: this.#before })
    this.#before = { x: unit.signal.x[UNIT - 1]!, y: unit.signal.y[UNIT - 1]! }
    const inside = samples.at.filter((value) => value >= origin && value < origin + UNIT)
    const speed = this.#speedOver(inside)
    const speeds = Array.from({ length: EIGHTHS }, (_, k) => {
      const from = origin + (k * UNIT) / EIGHTHS
      return this.#speedOver(inside.filter((value) => value >= from && value < from + UNIT / EIGHTHS))
    })
    const absolute = this.#hasAbsolute ? this.#placedAbsolute(samples.at, origin) : undefined
    const counts = countsOf(inside, origin)
    this.#next = number + 1
    this.#forget((number + 1) * UNIT - 2 * this.#knot)
    return this.#sink({ ...unit, speed, speeds, empty, counts, ...(absolute === undefined ? {} : { absolute }) })
  }

  #speedOver(at: Float64Array): number {
    if (at.length < 2) return 0
    return ((at.at(-1)! - at[0]!) * this.#source.step_m * this.#source.rate_Hz) / (at.length - 1)
  }

  #placedAbsolute(at: Float64Array, origin: number): Float64Array {
    const a = Float64Array.from(this.#a)
    const room = placedRoom(UNIT)
    placeUneven(
      { at, x: a, y: a, from: 0, to: at.length },
      { origin, step: 1, from: 0, to: UNIT, knot: this.#knot },
      room
    )
    return room.x
  }

  #forget(before: number): void {
    const keep = this.#at.findIndex((value) => value > before)
    const n = keep < 0 ? this.#at.length : keep
    this.#at.splice(0, n)
    this.#x.splice(0, n)
    this.#y.splice(0, n)
    this.#a.splice(0, n)
  }
}

function countsOf(inside: Float64Array, origin: number): Float64Array {
  const counts = new Float64Array(UNIT)
  for (const at of inside) counts[Math.floor(at - origin)]!++
  return counts
}

const tooShort = (length_m: number) =>
  refuse('signal/too-short', {
    found: `${(1e3 * length_m).toFixed(2)} mm of track`,
    needed: 'more than the width of the field',
    remedy: 'record the whole track'
  })
