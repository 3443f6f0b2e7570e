interface Columns {
  readonly x: Float64Array
  readonly y: Float64Array
}

/** A linear map of the plane that keeps angles: (x, y) times the complex number. */
interface Turn {
  readonly x: number
  readonly y: number
}

/** Counts in equal bins, `scale` of them to the unit, and one more at the end for what lies beyond. */
export interface Counts {
  readonly scale: number
  readonly sizes: Float64Array
  readonly along: readonly [Float64Array, Float64Array, Float64Array, Float64Array]
}

/**
 * Counts how far every `stride`-th element lies from its mean, turned: its size, and its magnitudes along x, y and both
 * diagonals. In place; a bin holds its lower edge.
 * @returns how many were counted
 */
export function countMotion(
  placed: Columns,
  mean: Columns,
  turn: Turn,
  counts: Counts & { readonly stride: number }
): number {
  const { scale, sizes, along, stride } = counts
  const [xs, ys, plus, minus] = along
  const last = sizes.length - 1
  const n = placed.x.length
  let counted = 0
  for (let i = 0; i < n; i += stride) {
    const dx = placed.x[i]! - mean.x[i]!
    const dy = placed.y[i]! - mean.y[i]!
    const x = dx * turn.x - dy * turn.y
    const y = dx * turn.y + dy * turn.x
    sizes[binOf(Math.sqrt(x * x + y * y) * scale, last)]! += 1
    xs[binOf(Math.abs(x) * scale, last)]! += 1
    ys[binOf(Math.abs(y) * scale, last)]! += 1
    plus[binOf(Math.abs(x + y) * scale, last)]! += 1
    minus[binOf(Math.abs(x - y) * scale, last)]! += 1
    counted++
  }
  return counted
}

/** What is no number has no bin: it can't come here, for a placed unit is a number throughout. */
const binOf = (place: number, last: number): number => (place < last ? place | 0 : last)
