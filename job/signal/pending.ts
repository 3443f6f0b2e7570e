import { borrowColumn, giveBack } from '@trueloop/ground/numerics'
import type { Segment } from '../scan/index.ts'

const CAPACITY = 8192
const NOTHING = new Float64Array(0)

type Name = 'x' | 'y' | 'index' | 'position' | 'absolute'

/**
 * Samples that wait for the place they belong to: columns with a moving beginning, the one copy that is made of them.
 * Element e of a column is sample `base + e`; the samples from `first` to `end` are there. Room is made by moving what is
 * left to the front, so that elements hold only until the next `push`.
 */
export class Pending {
  x = borrowColumn(CAPACITY)
  y = borrowColumn(CAPACITY)
  /** index channel; there from the first segment on that has it */
  index: Float64Array<ArrayBuffer> | undefined
  /** encoder position, m; there from the first segment on that has it */
  position: Float64Array<ArrayBuffer> | undefined
  /** absolute channel, recorded units; there from the first segment on that has it */
  absolute: Float64Array<ArrayBuffer> | undefined
  base = 0
  first = 0
  end = 0

  /** Takes `n` samples of a segment from its element `at` on. */
  push({ channels, aux }: Segment, at: number, n: number): void {
    this.#room(n)
    const channel = channels[0]!
    const to = this.end - this.base
    const all = at === 0 && n === channel.x.length
    const part = (column: Float64Array) => (all ? column : column.subarray(at, at + n))
    this.x.set(part(channel.x), to)
    this.y.set(part(channel.y), to)
    this.#pushAux('index', aux.index && part(aux.index), n)
    this.#pushAux('position', aux.position && part(aux.position), n)
    this.#pushAux('absolute', aux.absolute && part(aux.absolute), n)
    this.end += n
  }

  /** Takes `n` samples that are missing. */
  pushGap(n: number): void {
    this.#room(n)
    const to = this.end - this.base
    for (const column of this.#columns()) column.fill(Number.NaN, to, to + n)
    this.end += n
  }

  /** Samples before this one are no longer needed. */
  forget(sample: number): void {
    if (sample > this.first) this.first = Math.min(sample, this.end)
  }

  /** Nothing is held any more. */
  release(): void {
    for (const column of this.#columns()) giveBack(column)
    this.x = this.y = NOTHING
    this.index = this.position = this.absolute = undefined
    this.base = this.first = this.end
  }

  #pushAux(name: 'index' | 'position' | 'absolute', part: Float64Array | undefined, n: number): void {
    const to = this.end - this.base
    if (part !== undefined) this[name] ??= borrowColumn(this.x.length).fill(Number.NaN, 0, to)
    if (part !== undefined) this[name]!.set(part, to)
    else this[name]?.fill(Number.NaN, to, to + n)
  }

  #columns(): readonly Float64Array<ArrayBuffer>[] {
    return [this.x, this.y, this.index, this.position, this.absolute].filter((column) => column !== undefined)
  }

  #room(n: number): void {
    const size = this.x.length
    if (this.end - this.base + n <= size) return
    const [from, to] = [this.first - this.base, this.end - this.base]
    const wider = 2 * (to - from + n)
    if (wider > size) this.#widen(wider, from, to)
    else for (const column of this.#columns()) column.copyWithin(0, from, to)
    this.base = this.first
  }

  #widen(size: number, from: number, to: number): void {
    for (const name of ['x', 'y', 'index', 'position', 'absolute'] as const satisfies readonly Name[]) {
      const old = this[name]
      if (old === undefined) continue
      const wider = borrowColumn(size)
      wider.set(old.subarray(from, to))
      giveBack(old)
      this[name] = wider
    }
  }
}
