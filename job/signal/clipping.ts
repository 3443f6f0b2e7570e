import type { Look } from './quiet.kernel.ts'

const SHORTEST_RUN = 4

/**
 * Watches for saturation: runs of at least four equal samples at the largest or smallest value that a channel ever took.
 * A signal that only passes through its extreme doesn't stay there. Common practice, no source.
 */
export class ClipWatch {
  readonly #x = [new Limit(1), new Limit(-1)] as const
  readonly #y = [new Limit(1), new Limit(-1)] as const

  take(x: Float64Array, y: Float64Array): void {
    watch(this.#x, x)
    watch(this.#y, y)
  }

  /** Extremes met up to now. */
  tell(look: Pick<Look, 'highX' | 'lowX' | 'highY' | 'lowY'>): void {
    look.highX = this.#x[0].extreme
    look.lowX = this.#x[1].extreme
    look.highY = this.#y[0].extreme
    look.lowY = this.#y[1].extreme
  }

  /** The same as `take`, of samples that stay clear of all extremes met before, as most do. */
  takeClear(): void {
    this.#x[0].takeClear()
    this.#x[1].takeClear()
    this.#y[0].takeClear()
    this.#y[1].takeClear()
  }

  /** Samples that stood at a limit. */
  samples(): number {
    return clippedOf(this.#x) + clippedOf(this.#y)
  }
}

/** A constant channel stands at both limits all the time: that is a dead channel, not a clipped one. */
function clippedOf([high, low]: readonly [Limit, Limit]): number {
  return high.extreme === low.extreme ? 0 : high.clipped() + low.clipped()
}

/** Most blocks stay clear of both limits: one pass tells. */
function watch([high, low]: readonly [Limit, Limit], values: Float64Array): void {
  let most = Number.NEGATIVE_INFINITY
  let least = Number.POSITIVE_INFINITY
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!
    if (value > most) most = value
    if (value < least) least = value
  }
  high.look(most, values)
  low.look(-least, values)
}

class Limit {
  readonly #sign: 1 | -1
  #most = Number.NEGATIVE_INFINITY
  #run = 0
  #samples = 0

  constructor(sign: 1 | -1) {
    this.#sign = sign
  }

  get extreme(): number {
    return this.#sign * this.#most
  }

  /** @param reached largest value of the block, in the sense of this limit */
  look(reached: number, values: Float64Array): void {
    if (values.length === 0) return
    if (reached >= this.#most) this.#take(values)
    else this.takeClear()
  }

  takeClear(): void {
    if (this.#run > 0) this.#close()
  }

  #take(values: Float64Array): void {
    const sign = this.#sign
    let most = this.#most
    let run = this.#run
    let samples = this.#samples
    for (let i = 0; i < values.length; i++) {
      const value = sign * values[i]!
      if (value > most) {
        most = value
        run = 1
        samples = 0
      } else if (value === most) run++
      else if (run > 0) {
        if (run >= SHORTEST_RUN) samples += run
        run = 0
      }
    }
    this.#most = most
    this.#run = run
    this.#samples = samples
  }

  clipped(): number {
    return this.#samples + (this.#run >= SHORTEST_RUN ? this.#run : 0)
  }

  #close(): void {
    if (this.#run >= SHORTEST_RUN) this.#samples += this.#run
    this.#run = 0
  }
}
