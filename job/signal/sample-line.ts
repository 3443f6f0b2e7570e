import { isRefusal, type Result } from '@trueloop/ground/refusal'
import type { Segment } from '../scan/index.ts'
import { ClipWatch } from './clipping.ts'
import { refuse } from './codes.ts'
import { markSpikes, type SpikeRule, spikeMargin } from './despike.kernel.ts'
import type { DropLog } from './drops.ts'
import { Pending } from './pending.ts'
import { type Look, lookOver } from './quiet.kernel.ts'

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

/** Samples taken at a time: what is copied is judged while it is still near. */
const PIECE = 2048

/** Widest spike, s: shorter than any flaw passes a probe, longer than a switching transient. Common practice, no source. */
const SPIKE_SECONDS = 1e-4

export const spikeRule = (rate_Hz: number): SpikeRule => ({
  width: Math.max(1, Math.min(12, Math.round(SPIKE_SECONDS * rate_Hz))),
  ratio: 12,
  contrast: 4
})

/** Samples [from, to) that may not be used, and why. */
export interface Fault {
  readonly from: number
  readonly to: number
  readonly kind: 'unreadable' | 'spike'
}

const REASONS = { unreadable: 'sample could not be read', spike: 'spike' } as const

/** Room for the rounding of the squares: a block in doubt is not quiet. */
const DOUBT = 1 + 1e-9
/** How much higher the next block's level is expected at most; a wrong guess costs a second look, it changes nothing. */
const NEXT_LEVEL = 2

type Sink = (from: number, to: number) => Result<void>

/**
 * The time axis: takes segments cut anywhere and hands on, in blocks whose borders depend on sample numbers alone, which
 * samples have been judged. They stay in `pending` until they are forgotten. Gaps and samples that can't be read or are
 * spikes are faults: marked, not repaired. Every loss is in the drop log. Refuses `signal/gap-too-long`.
 */
export class SampleLine {
  readonly pending = new Pending()
  readonly clipping = new ClipWatch()
  /** of the samples in `pending`, in order */
  faults: Fault[] = []
  /** samples before this one have been judged */
  judged = 0
  /** samples that came in segments */
  samples = 0
  readonly #drops: DropLog
  readonly #sink: Sink
  readonly #rule: SpikeRule
  readonly #margin: number
  readonly #block: number
  readonly #ok: Uint8Array
  readonly #look: Look = {
    highX: 0,
    lowX: 0,
    highY: 0,
    lowY: 0,
    guess: Number.POSITIVE_INFINITY,
    below: 0,
    most: 0,
    readable: false,
    reached: false
  }

  constructor(rate_Hz: number, drops: DropLog, sink: Sink) {
    this.#drops = drops
    this.#sink = sink
    this.#rule = spikeRule(rate_Hz)
    this.#margin = spikeMargin(this.#rule)
    this.#block = blockLength(rate_Hz)
    this.#ok = new Uint8Array(this.#block + 2 * this.#margin)
  }

  take(segment: Segment): Result<void> {
    const { length } = segment.channels[0]!.x
    const gap = segment.first - this.pending.end
    if (gap < 0) throw new RangeError('segments must come in order')
    if (gap > 0) {
      const filled = this.#gap(gap)
      if (isRefusal(filled)) return filled
    }
    this.samples += length
    for (let at = 0; at < length; at += PIECE) {
      this.pending.push(segment, at, Math.min(PIECE, length - at))
      const done = this.#drain(false)
      if (isRefusal(done)) return done
    }
  }

  end(): Result<void> {
    return this.#drain(true)
  }

  /** Samples before this one are no longer needed by whoever takes the blocks. */
  forget(sample: number): void {
    const { pending } = this
    pending.forget(Math.min(sample, this.judged - this.#margin))
    if (this.faults.length > 0 && this.faults[0]!.to <= pending.first)
      this.faults = this.faults.filter(({ to }) => to > pending.first)
  }

  /** Whether there is a fault among the samples [from, to). */
  isFaulty(from: number, to: number): boolean {
    for (const fault of this.faults) if (fault.from < to && fault.to > from) return true
    return false
  }

  #gap(samples: number): Result<void> {
    const from = this.pending.end
    if (samples > LONGEST_GAP) {
      return refuse('signal/gap-too-long', {
        found: `a gap of ${samples} samples`,
        needed: `at most ${LONGEST_GAP}`,
        remedy: 'examine the parts before and after the gap as recordings of their own',
        where: { sample: from }
      })
    }
    this.#drops.add({ from, to: from + samples, unit: 'sample', samples, reason: 'gap in the recording' })
    for (let left = samples; left > 0; left -= PIECE) {
      this.pending.pushGap(Math.min(PIECE, left))
      const done = this.#drain(false)
      if (isRefusal(done)) return done
    }
  }

  /** Hands on every block whose neighborhood is there. */
  #drain(last: boolean): Result<void> {
    for (;;) {
      const { end } = this.pending
      const from = this.judged
      const to = Math.min(from + this.#block, end)
      const ready = last ? to > from : end >= from + this.#block + this.#margin
      if (!ready) return
      this.#judge(from, to)
      this.judged = to
      const sent = this.#sink(from, to)
      if (isRefusal(sent)) return sent
    }
  }

  #judge(from: number, to: number): void {
    const { base, end, x, y } = this.pending
    const a = Math.max(0, from - this.#margin)
    const b = Math.min(end, to + this.#margin)
    // at both ends of a recording the look would not see the whole block
    const known = b - a === to - from + 2 * this.#margin
    if (known) this.#lookOver(from, to)
    if (known && !this.#look.reached) this.clipping.takeClear()
    else this.clipping.take(x.subarray(from - base, to - base), y.subarray(from - base, to - base))
    if (known && this.#isQuiet(from, to)) return
    const ok = this.#ok.subarray(0, b - a)
    markSpikes(x.subarray(a - base, b - base), y.subarray(a - base, b - base), ok, this.#rule)
    this.#note(from, ok.subarray(from - a, to - a))
  }

  /** Looks at the block and at the samples beside it that would take some of it along as a spike. */
  #lookOver(from: number, to: number): void {
    const { base, x, y } = this.pending
    const { width } = this.#rule
    this.clipping.tell(this.#look)
    const reach = width + 1
    const beside = width - 1 + reach
    lookOver(x, y, { reach, from: from - beside - base, to: to + beside - base }, this.#look)
  }

  /**
   * Whether all samples can be read and none can be a spike, found without the median: the largest measure is no spike
   * where at most half of the measures lie below its `ratio`-th part. They were counted below a guess, which proves it
   * when the guess is not lower than that part; where it is, they are counted again. The measures at the margin, of which the median is one too, were not
   * looked at: all of them may lie below.
   */
  #isQuiet(from: number, to: number): boolean {
    const look = this.#look
    if (!look.readable) return false
    const { ratio, width } = this.#rule
    const level = (look.most / (ratio * ratio)) * DOUBT
    if (level > look.guess) {
      look.guess = level
      this.#lookOver(from, to)
    }
    look.guess = NEXT_LEVEL * level
    const measured = to - from + 2 * (this.#margin - (width + 1))
    const unseen = measured - (to - from + 2 * (width - 1))
    return level === 0 || look.below + unseen <= Math.floor((measured - 1) / 2)
  }

  #note(first: number, ok: Uint8Array): void {
    for (let i = 0; i < ok.length; ) {
      const found = ok[i]!
      const from = first + i
      while (i < ok.length && ok[i] === found) i++
      if (found === 1) continue
      const to = first + i
      const kind = found === 0 ? 'unreadable' : 'spike'
      this.#drops.add({ from, to, unit: 'sample', samples: to - from, reason: REASONS[kind] })
      const last = this.faults.at(-1)
      if (last?.kind === kind && last.to === from) this.faults[this.faults.length - 1] = { ...last, to }
      else this.faults.push({ from, to, kind })
    }
  }
}
