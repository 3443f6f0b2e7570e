/** Least and greatest value that a column ever took; order and cutting change nothing. */
export class Extent {
  #least = Number.POSITIVE_INFINITY
  #most = Number.NEGATIVE_INFINITY

  take(values: Float64Array): void {
    for (const value of values) {
      if (value < this.#least) this.#least = value
      if (value > this.#most) this.#most = value
    }
  }

  get width(): number {
    return Math.max(0, this.#most - this.#least)
  }
}

/** How far each recorded channel moved over the whole pass. */
export interface Channels {
  readonly x: number
  readonly y: number
}

/** A channel that moves by less than this share of the other one stands still. */
const STILL = 1e-4

/** Channels that stand still: nothing can be examined with them. */
export const stillOf = ({ x, y }: Channels): readonly ('x' | 'y')[] => [
  ...(x > STILL * y ? [] : (['x'] as const)),
  ...(y > STILL * x ? [] : (['y'] as const))
]
