import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { Segment } from '../scan/index.ts'
import { type Band, knotSpacing, UNIT } from './band.ts'
import { refuse } from './codes.ts'
import type { DropLog } from './drops.ts'
import { placedRoom, placeUneven } from './placing.kernel.ts'
import { type Block, copyOf, TimeLine } from './timeline.ts'
import { finishUnit, type Unit } from './unit.ts'

export interface PositionSource {
  readonly rate_Hz: number
  /** distance of two ruler points, m */
  readonly step_m: number
  readonly band: Band
}

/** One placed unit of track: 512 points, with the mean speed over it, m/s, and which points no sample reached. */
export interface TrackUnit extends Unit<'position'> {
  readonly speed: number
  readonly empty: readonly number[]
}

export interface Travel {
  readonly samples: number
  readonly clipped: number
  /** +1 when position grows with time */
  readonly sense: 1 | -1
  /** ruler points of the first and the last sample */
  readonly from: number
  readonly to: number
}

/** An encoder that leaps by more ruler points than this between two samples is not believed. */
const LONGEST_JUMP = 4 * UNIT

type Sink = (unit: TrackUnit) => Result<void>

/**
 * The ruler of a track: recorded segments with an encoder position in, placed units of 512 points out, in the order of
 * travel. A ruler point n lies at n·step along the travel (position times sense). Samples that run back are left out and
 * logged. Refuses `signal/no-position`, `signal/too-short`, `signal/gap-too-long`.
 */
export class PositionRuler {
  readonly #source: PositionSource
  readonly #drops: DropLog
  readonly #sink: Sink
  readonly #line: TimeLine
  readonly #knot: number
  #at: number[] = []
  #x: number[] = []
  #y: number[] = []
  #sense: 1 | -1 | undefined
  #first: number | undefined
  #start = Number.NaN
  #most = Number.NEGATIVE_INFINITY
  #next: number | undefined
  #before: { x: number; y: number } | undefined
  #waiting: Block[] = []

  constructor(source: PositionSource, drops: DropLog, sink: Sink) {
    this.#source = source
    this.#drops = drops
    this.#sink = sink
    this.#knot = knotSpacing(source.band)
    this.#line = new TimeLine(source.rate_Hz, drops, (block) => this.#block(block))
  }

  take(segment: Segment): Result<void> {
    return this.#line.take(segment)
  }

  end(): Result<Travel> {
    const ended = this.#line.end()
    if (isRefusal(ended)) return ended
    if (this.#sense === undefined) return noPosition('a position that never changes')
    const last = this.#most
    while (this.#next! * UNIT <= last) {
      const sent = this.#send()
      if (isRefusal(sent)) return sent
    }
    if (last - this.#start < 2 * this.#knot) return tooShort((last - this.#start) * this.#source.step_m)
    return {
      samples: this.#line.samples,
      clipped: this.#line.clipping.samples(),
      sense: this.#sense,
      from: this.#start,
      to: last
    }
  }

  #block(block: Block): Result<void> {
    if (block.position === undefined) return noPosition('no position column')
    if (this.#sense !== undefined) return this.#add(block)
    this.#waiting.push(copyOf(block))
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
  #findSense({ position }: Block): void {
    for (const value of position!) {
      if (Number.isNaN(value)) continue
      this.#first ??= value
      const moved = value - this.#first
      if (Math.abs(moved) >= this.#source.step_m) {
        this.#sense = moved > 0 ? 1 : -1
        return
      }
    }
  }

  #add({ first, x, y, ok, position }: Block): Result<void> {
    const perStep = this.#sense! / this.#source.step_m
    for (let i = 0; i < x.length; i++) {
      if (ok[i] !== 1) continue
      const at = position![i]! * perStep
      if (!(at >= this.#most) && this.#next !== undefined) {
        if (at < this.#most) this.#leaveOut(first + i, 'position ran back')
        continue
      }
      if (this.#next !== undefined && at > this.#most + LONGEST_JUMP) {
        this.#leaveOut(first + i, 'position jumped')
        continue
      }
      if (Number.isNaN(at)) continue
      if (this.#next === undefined) {
        this.#next = Math.floor(at / UNIT)
        this.#start = at
      }
      this.#most = at
      this.#at.push(at)
      this.#x.push(x[i]!)
      this.#y.push(y[i]!)
      while (at > (this.#next + 1) * UNIT + 2 * this.#knot) {
        const sent = this.#send()
        if (isRefusal(sent)) return sent
      }
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
    const travelled = inside.length > 1 ? inside.at(-1)! - inside[0]! : 0
    const speed = inside.length > 1 ? (travelled * this.#source.step_m * this.#source.rate_Hz) / (inside.length - 1) : 0
    this.#next = number + 1
    this.#forget((number + 1) * UNIT - 2 * this.#knot)
    return this.#sink({ ...unit, speed, empty })
  }

  #forget(before: number): void {
    const keep = this.#at.findIndex((value) => value > before)
    const n = keep < 0 ? this.#at.length : keep
    this.#at.splice(0, n)
    this.#x.splice(0, n)
    this.#y.splice(0, n)
  }
}

const noPosition = (found: string) =>
  refuse('signal/no-position', {
    found,
    needed: 'an encoder position that advances along the track',
    remedy: 'name the position column in the job sheet, and check the encoder'
  })

const tooShort = (length_m: number) =>
  refuse('signal/too-short', {
    found: `${(1e3 * length_m).toFixed(2)} mm of track`,
    needed: 'more than the width of the field',
    remedy: 'record the whole track'
  })
