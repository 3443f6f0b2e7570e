import { paletteOf } from '@trueloop/ground/picture'
import type { WallSignal } from './wall.ts'

/** What the map shows of the signal: across lift-off (signed), along it (signed), or its size whatever its direction. */
export type Quantity = 'across lift-off' | 'along lift-off' | 'size'

const noColor = 255

const tables = { signed: rgba('signed'), sequential: rgba('sequential'), night: rgba('night') }

export type ColorTable = keyof typeof tables

/** The colors of a quantity on a light or a dark page. */
export const tableOf = (quantity: Quantity, isDark: boolean): ColorTable =>
  quantity === 'size' ? 'sequential' : isDark ? 'night' : 'signed'

/** As a bar from the least to the greatest value, for a style. */
export function barOf(table: ColorTable): string {
  const palette = paletteOf(table)
  const stops = Array.from({ length: 9 }, (_, k) => {
    const at = 3 * Math.round((k * (noColor - 1)) / 8)
    return `rgb(${palette.slice(at, at + 3).join(' ')})`
  })
  return `linear-gradient(90deg, ${stops.join(', ')})`
}

function rgba(table: 'signed' | 'sequential' | 'night'): Uint32Array {
  const palette = paletteOf(table)
  const colors = new Uint32Array(256)
  const bytes = new Uint8Array(colors.buffer)
  for (let at = 0; at < noColor; at++) {
    bytes.set(palette.subarray(3 * at, 3 * at + 3), 4 * at)
    bytes[4 * at + 3] = 255
  }
  return colors
}

export interface Painting {
  /** swing at the ends of the color table */
  readonly scale: number
  readonly isDark: boolean
}

/**
 * The wall as an image: a column an element, a row a whole revolution of the ruler from `rowFrom` on. Elements lie on a
 * spiral, so each is drawn at its own depth: between the two revolutions that pass above and below.
 */
export function paintWall(wall: WallSignal, quantity: Quantity, { scale, isDark }: Painting): ImageData {
  const { rows, columns } = wall
  const image = new ImageData(columns, rows + 1)
  const pixels = new Uint32Array(image.data.buffer)
  const colors = tables[tableOf(quantity, isDark)]
  const value = shownOf(wall, quantity)
  const [from, to] = quantity === 'size' ? [0, scale] : [-scale, scale]
  for (let row = 0; row <= rows; row++) {
    for (let column = 0; column < columns; column++) {
      const late = column / columns
      const above = row === 0 ? Number.NaN : value((row - 1) * columns + column)
      const below = row === rows ? Number.NaN : value(row * columns + column)
      const mixed = Number.isNaN(above) ? below : Number.isNaN(below) ? above : late * above + (1 - late) * below
      pixels[row * columns + column] = colors[indexOf(mixed, from, to)]!
    }
  }
  return image
}

function shownOf({ x, y }: WallSignal, quantity: Quantity): (at: number) => number {
  if (quantity === 'across lift-off') return (at) => y[at]!
  if (quantity === 'along lift-off') return (at) => x[at]!
  return (at) => Math.hypot(x[at]!, y[at]!)
}

function indexOf(value: number, from: number, to: number): number {
  if (Number.isNaN(value)) return noColor
  return Math.round(Math.min(1, Math.max(0, (value - from) / (to - from))) * (noColor - 1))
}
