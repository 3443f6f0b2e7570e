import type { Result } from '@trueloop/ground/refusal'
import type { Segment } from '../scan/index.ts'
import type { ClipWatch } from './clipping.ts'
import type { DropLog } from './drops.ts'
import { type Fault, SampleLine } from './sample-line.ts'

/**
 * Samples of the time axis in one contiguous block, with what may be used (`ok` 1) and what not (0 unreadable, 2 a spike).
 * Its columns are views that hold until the next block comes: who keeps a block keeps its `copyOf`.
 */
export interface Block {
  readonly first: number
  readonly x: Float64Array
  readonly y: Float64Array
  readonly ok: Uint8Array
  readonly position?: Float64Array
  readonly index?: Float64Array
  readonly absolute?: Float64Array
}

/** A block with columns of its own. */
export const copyOf = ({ first, x, y, ok, ...aux }: Block): Block => ({
  first,
  x: x.slice(),
  y: y.slice(),
  ok: ok.slice(),
  ...Object.fromEntries(Object.entries(aux).map(([name, column]) => [name, column.slice()]))
})

/** The samples [from, to) of a line as a block. */
export function blockOf({ pending, faults }: SampleLine, from: number, to: number): Block {
  const { base, x, y, position, index, absolute } = pending
  const cut = (column: Float64Array) => column.subarray(from - base, to - base)
  return {
    first: from,
    x: cut(x),
    y: cut(y),
    ok: okOf(faults, from, to),
    ...(position === undefined ? {} : { position: cut(position) }),
    ...(index === undefined ? {} : { index: cut(index) }),
    ...(absolute === undefined ? {} : { absolute: cut(absolute) })
  }
}

function okOf(faults: readonly Fault[], from: number, to: number): Uint8Array {
  const ok = new Uint8Array(to - from).fill(1)
  for (const fault of faults) {
    if (fault.to <= from || fault.from >= to) continue
    ok.fill(fault.kind === 'spike' ? 2 : 0, Math.max(0, fault.from - from), Math.min(to, fault.to) - from)
  }
  return ok
}

type Sink = (block: Block) => Result<void>

/** A `SampleLine` that hands on blocks to be gone through at once: for whoever needs no neighborhood. */
export class TimeLine {
  readonly #line: SampleLine

  constructor(rate_Hz: number, drops: DropLog, sink: Sink) {
    this.#line = new SampleLine(rate_Hz, drops, (from, to) => {
      const sent = sink(blockOf(this.#line, from, to))
      this.#line.forget(to)
      return sent
    })
  }

  take(segment: Segment): Result<void> {
    return this.#line.take(segment)
  }

  end(): Result<void> {
    return this.#line.end()
  }

  /** samples that came in segments */
  get samples(): number {
    return this.#line.samples
  }

  get clipping(): ClipWatch {
    return this.#line.clipping
  }
}
