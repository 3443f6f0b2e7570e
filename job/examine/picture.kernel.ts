interface Sizes {
  readonly cx: Float64Array
  readonly cy: Float64Array
  readonly direction: { readonly x: number; readonly y: number }
}

interface Row {
  /** element in the first cell: of the first revolution it may lie before the first there is */
  readonly from: number
  readonly start: number
  readonly to: number
  /** cells an element is wide */
  readonly perElement: number
}

/** Raises the cells of a row to the largest size along a direction that an element of [start, to) in them has. */
export function raiseCells(
  cells: Float64Array,
  { cx, cy, direction }: Sizes,
  { from, start, to, perElement }: Row
): void {
  const { x, y } = direction
  for (let i = start; i < to; i++) {
    const along = Math.abs(cx[i]! * x + cy[i]! * y)
    const cell = ((i - from) * perElement) | 0
    if (along > cells[cell]!) cells[cell] = along
  }
}

/** As a list, rounded to so many parts of 1. */
export function rounded(cells: Float64Array, parts: number): readonly number[] {
  const values = new Array<number>(cells.length)
  for (let k = 0; k < cells.length; k++) values[k] = Math.round(cells[k]! * parts) / parts
  return values
}
