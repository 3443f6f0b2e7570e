interface Columns {
  readonly x: Float64Array
  readonly y: Float64Array
}

/** Every so many elements from one on, read along a direction. */
export interface Reading {
  readonly along: { readonly x: number; readonly y: number }
  readonly from: number
  readonly every: number
  readonly perTurn: number
}

/** Columns of one length, written: what a size is, and how far the next element and that one revolution on are from it. */
export interface Differences {
  readonly size: Float64Array
  readonly next: Float64Array
  readonly further: Float64Array
}

/** Sizes along a direction without their sign, and those of their differences around the wall and along it. */
export function differences(
  { x, y }: Columns,
  { along, from, every, perTurn }: Reading,
  { size, next, further }: Differences
): void {
  const { x: p, y: q } = along
  for (let k = 0, i = from; k < size.length; k++, i += every) {
    const here = p * x[i]! + q * y[i]!
    size[k] = Math.abs(here)
    next[k] = Math.abs(p * x[i + 1]! + q * y[i + 1]! - here)
    further[k] = Math.abs(p * x[i + perTurn]! + q * y[i + perTurn]! - here)
  }
}
