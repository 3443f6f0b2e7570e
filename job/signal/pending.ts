import type { Block } from './timeline.ts'

/** Samples that wait for the place they belong to: growable columns with a moving beginning. */
export class Pending {
  x = new Float64Array(8192)
  y = new Float64Array(8192)
  ok = new Uint8Array(8192)
  /** encoder position, m; NaN where the recording has none */
  position = new Float64Array(8192)
  /** ruler coordinate, filled in when it is known */
  at = new Float64Array(8192)
  from = 0
  to = 0

  push({ x, y, ok, position }: Block): void {
    const n = x.length
    this.#room(n)
    this.x.set(x, this.to)
    this.y.set(y, this.to)
    this.ok.set(ok, this.to)
    if (position === undefined) this.position.fill(Number.NaN, this.to, this.to + n)
    else this.position.set(position, this.to)
    this.to += n
  }

  #room(n: number): void {
    if (this.to + n <= this.x.length) return
    const used = this.to - this.from
    const size = Math.max(this.x.length, 2 * (used + n))
    const move = <T extends Float64Array | Uint8Array>(old: T, fresh: T): T => {
      fresh.set(old.subarray(this.from, this.to))
      return fresh
    }
    if (size > this.x.length) {
      this.x = move(this.x, new Float64Array(size))
      this.y = move(this.y, new Float64Array(size))
      this.at = move(this.at, new Float64Array(size))
      this.ok = move(this.ok, new Uint8Array(size))
      this.position = move(this.position, new Float64Array(size))
    } else {
      for (const column of [this.x, this.y, this.at, this.ok, this.position]) column.copyWithin(0, this.from, this.to)
    }
    this.to = used
    this.from = 0
  }
}
