import { paletteOf } from '@trueloop/ground/picture'
import type { WallSignal } from './wall.ts'

/** What the map shows of the signal: across lift-off (signed), along it (signed), or its size whatever its direction. */
export type Quantity = 'across lift-off' | 'along lift-off' | 'size'

const noColor = 255

const tables = { signed: rgba('signed'), sequential: rgba('sequential') }

function rgba(table: 'signed' | 'sequential'): Uint32Array {
  const palette = paletteOf(table)
  const colors = new Uint32Array(256)
  const bytes = new Uint8Array(colors.buffer)
  for (let at = 0; at < noColor; at++) {
    bytes.set(palette.subarray(3 * at, 3 * at + 3), 4 * at)
    bytes[4 * at + 3] = 255
  }
  return colors
}

/**
 * The wall as an image: a column an element, a row a whole revolution of the ruler from `rowFrom` on. Elements lie on a
 * spiral, so each is drawn at its own depth: between the two revolutions that pass above and below.
 */
export function paintWall(wall: WallSignal, quantity: Quantity, scale: number): ImageData {
  const { rows, columns } = wall
  const image = new ImageData(columns, rows + 1)
  const pixels = new Uint32Array(image.data.buffer)
  const colors = quantity === 'size' ? tables.sequential : tables.signed
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
