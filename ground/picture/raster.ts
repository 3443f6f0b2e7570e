import { base64 } from './base64.ts'
import { png } from './png.ts'
import { balanced, cividis, night } from './tables.ts'

/** Cells to be colored by their value. Values are `[row, column]`; what is no finite number has no color. */
export interface Cells {
  readonly rows: number
  readonly columns: number
  readonly values: ArrayLike<number>
  /** values at the two ends of the table; what lies beyond takes the color of the end */
  readonly from: number
  readonly to: number
  /** "sequential" for amounts, "signed" for values on both sides of the middle, "night" for the same on a dark page */
  readonly table: keyof typeof tables
}

const tables = { sequential: cividis, signed: balanced, night } as const

const noValue = 255

/** The cells as a PNG in a data address, for a raster mark. */
export function rasterHref({ rows, columns, values, from, to, table }: Cells): string {
  const indices = Uint8Array.from({ length: rows * columns }, (_, at) => indexOf(values[at] ?? Number.NaN, from, to))
  return `data:image/png;base64,${base64(png({ width: columns, height: rows, indices, palette: paletteOf(table) }))}`
}

/** Index into the table: 0 at `from`, 254 at `to`, 255 for no value. */
export function indexOf(value: number, from: number, to: number): number {
  if (!Number.isFinite(value)) return noValue
  return Math.round(Math.min(1, Math.max(0, (value - from) / (to - from))) * 254)
}

/** Red, green, blue of 256 entries; the last stands for no value and is seen through. */
export function paletteOf(table: Cells['table']): Uint8Array {
  const digits = tables[table]
  return Uint8Array.from({ length: 768 }, (_, at) => Number.parseInt(digits.slice(2 * at, 2 * at + 2) || '00', 16))
}
