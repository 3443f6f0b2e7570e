/** Least and greatest value that a column ever took; order and cutting change nothing. */
export class Extent {
  /** least and greatest */
  readonly #met = Float64Array.of(Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY)

  take(values: Float64Array): void {
    let least = this.#met[0]!
    let most = this.#met[1]!
    for (let i = 0; i < values.length; i++) {
      const value = values[i]!
      if (value < least) least = value
      if (value > most) most = value
    }
    this.#met[0] = least
    this.#met[1] = most
  }

  get width(): number {
    return Math.max(0, this.#met[1]! - this.#met[0]!)
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
