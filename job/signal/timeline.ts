import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { Segment } from '../scan/index.ts'
import { ClipWatch } from './clipping.ts'
import { refuse } from './codes.ts'
import { markSpikes, type SpikeRule, spikeMargin } from './despike.kernel.ts'
import type { DropLog } from './drops.ts'

/**
 * Samples of the time axis in one contiguous block, with what may be used (`ok` 1) and what not (0 unreadable, 2 a spike).
 * Its columns are views that hold until the next block comes: who keeps a block keeps its `copyOf`.
 */
export interface Block {
  readonly first: number
  readonly x: Float64Array
  readonly y: Float64Array
  readonly ok: Uint8Array
  readonly index?: Float64Array
  readonly position?: Float64Array
}

/** A block with columns of its own. */
export const copyOf = ({ first, x, y, ok, index, position }: Block): Block => ({
  first,
  x: x.slice(),
  y: y.slice(),
  ok: ok.slice(),
  ...(index === undefined ? {} : { index: index.slice() }),
  ...(position === undefined ? {} : { position: position.slice() })
})

const CAPACITY = 8192
/** A block lasts about 10 ms, so that a live signal is not held back; long enough for its median to be one. */
const BLOCKS_A_SECOND = 100
const SHORTEST_BLOCK = 64
const LONGEST_BLOCK = 4096

function blockLength(rate_Hz: number): number {
  let length = SHORTEST_BLOCK
  while (length < LONGEST_BLOCK && length * BLOCKS_A_SECOND < rate_Hz) length *= 2
  return length
}

const LONGEST_GAP = 4_000_000

/** Widest spike, s: shorter than any flaw passes a probe, longer than a switching transient. Common practice, no source. */
const SPIKE_SECONDS = 1e-4

export const spikeRule = (rate_Hz: number): SpikeRule => ({
  width: Math.max(1, Math.min(12, Math.round(SPIKE_SECONDS * rate_Hz))),
  ratio: 12,
  contrast: 4
})

type Sink = (block: Block) => Result<void>

/**
 * The time axis: takes segments cut anywhere, hands on blocks whose borders depend on sample numbers alone. Gaps and
 * unreadable samples become samples that are not ok; spikes are marked, not repaired. Every loss is in the drop log.
 * Refuses `signal/gap-too-long`.
 */
export class TimeLine {
  readonly #drops: DropLog
  readonly #sink: Sink
  readonly #rule: SpikeRule
  readonly #margin: number
  readonly #block: number
  #start = 0
  #length = 0
  #next = 0
  readonly #columns: Record<'x' | 'y' | 'index' | 'position', Float64Array>
  readonly #ok: Uint8Array
  #has = { index: false, position: false }
  /** samples that came in segments */
  samples = 0
  readonly clipping = new ClipWatch()

  constructor(rate_Hz: number, drops: DropLog, sink: Sink) {
    this.#drops = drops
    this.#sink = sink
    this.#rule = spikeRule(rate_Hz)
    this.#margin = spikeMargin(this.#rule)
    this.#block = blockLength(rate_Hz)
    const size = CAPACITY + 2 * this.#margin
    this.#ok = new Uint8Array(size)
    this.#columns = {
      x: new Float64Array(size),
      y: new Float64Array(size),
      index: new Float64Array(size),
      position: new Float64Array(size)
    }
  }

  take(segment: Segment): Result<void> {
    const channel = segment.channels[0]!
    const gap = segment.first - (this.#start + this.#length)
    if (gap < 0) throw new RangeError('segments must come in order')
    this.#has = { index: segment.aux.index !== undefined, position: segment.aux.position !== undefined }
    if (gap > 0) {
      const filled = this.#gap(gap)
      if (isRefusal(filled)) return filled
    }
    this.samples += channel.x.length
    for (let at = 0; at < channel.x.length; ) {
      const room = this.#columns.x.length - this.#length
      const n = Math.min(room, channel.x.length - at)
      this.#copy(segment, at, n)
      at += n
      const done = this.#drain(false)
      if (isRefusal(done)) return done
    }
  }

  end(): Result<void> {
    return this.#drain(true)
  }

  #gap(samples: number): Result<void> {
    if (samples > LONGEST_GAP) {
      return refuse('signal/gap-too-long', {
        found: `a gap of ${samples} samples`,
        needed: `at most ${LONGEST_GAP}`,
        remedy: 'examine the parts before and after the gap as recordings of their own',
        where: { sample: this.#start + this.#length }
      })
    }
    const from = this.#start + this.#length
    this.#drops.add({ from, to: from + samples, unit: 'sample', samples, reason: 'gap in the recording' })
    for (let left = samples; left > 0; ) {
      const n = Math.min(left, this.#columns.x.length - this.#length)
      for (const column of Object.values(this.#columns)) column.fill(Number.NaN, this.#length, this.#length + n)
      this.#length += n
      left -= n
      const done = this.#drain(false)
      if (isRefusal(done)) return done
    }
  }

  #copy(segment: Segment, at: number, n: number): void {
    const channel = segment.channels[0]!
    this.#columns.x.set(channel.x.subarray(at, at + n), this.#length)
    this.#columns.y.set(channel.y.subarray(at, at + n), this.#length)
    if (segment.aux.index) this.#columns.index.set(segment.aux.index.subarray(at, at + n), this.#length)
    if (segment.aux.position) this.#columns.position.set(segment.aux.position.subarray(at, at + n), this.#length)
    this.#length += n
  }

  /** Hands on every block whose neighborhood is there. */
  #drain(last: boolean): Result<void> {
    for (;;) {
      const end = this.#start + this.#length
      const to = Math.min(this.#next + this.#block, end)
      const ready = last ? to > this.#next : end >= this.#next + this.#block + this.#margin
      if (!ready) return
      const sent = this.#send(this.#next, to)
      if (isRefusal(sent)) return sent
      this.#next = to
      this.#forget(to - this.#margin)
    }
  }

  #send(from: number, to: number): Result<void> {
    const a = Math.max(this.#start, from - this.#margin)
    const b = Math.min(this.#start + this.#length, to + this.#margin)
    const around = (c: Float64Array) => c.subarray(a - this.#start, b - this.#start)
    const ok = this.#ok.subarray(0, b - a)
    markSpikes(around(this.#columns.x), around(this.#columns.y), ok, this.#rule)
    const cut = (c: Float64Array) => c.subarray(from - this.#start, to - this.#start)
    const { x, y, index, position } = this.#columns
    const block: Block = {
      first: from,
      x: cut(x),
      y: cut(y),
      ok: ok.subarray(from - a, to - a),
      ...(this.#has.index ? { index: cut(index) } : {}),
      ...(this.#has.position ? { position: cut(position) } : {})
    }
    this.#note(block)
    return this.#sink(block)
  }

  #note({ first, x, y, ok }: Block): void {
    this.clipping.take(x, y)
    for (let i = 0; i < ok.length; i++) {
      if (ok[i] === 1) continue
      const reason = ok[i] === 0 ? 'sample could not be read' : 'spike'
      this.#drops.add({ from: first + i, to: first + i + 1, unit: 'sample', samples: 1, reason })
    }
  }

  #forget(upTo: number): void {
    const n = Math.min(upTo - this.#start, this.#length)
    if (n <= 0) return
    for (const column of Object.values(this.#columns)) column.copyWithin(0, n, this.#length)
    this.#start += n
    this.#length -= n
  }
}
