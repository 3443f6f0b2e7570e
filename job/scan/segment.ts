import { giveBack } from '@trueloop/ground/numerics'

/**
 * A Segment is the only form in which samples travel: some consecutive samples of one recording, cut anywhere.
 * `first` is the recording's sample number of element 0, so that a gap between two segments is visible.
 * All arrays of a segment have the same length. A sample that the recording holds but that could not be read
 * (text where a number should be, NaN, a row that is too short) is there as NaN in x and y: time goes on, the loss is visible.
 */
export interface Segment {
  readonly first: number
  readonly channels: readonly Channel[]
  readonly aux: Aux
}

/** One complex-plane channel in recorded units: x horizontal (in phase), y vertical (quadrature). */
export interface Channel {
  readonly x: Float64Array
  readonly y: Float64Array
}

/** What travels beside the signal. Only what the recording holds is there. */
export interface Aux {
  /** index pulse, in recorded units; a rising edge marks angle zero */
  readonly index?: Float64Array
  /** encoder position along the scan axis, m */
  readonly position?: Float64Array
  /** time stamps as recorded, s */
  readonly time?: Float64Array
  /** absolute (lift-off, coating) channel, recorded units */
  readonly absolute?: Float64Array
}

/**
 * Gives a segment that was taken to whoever reads next: its giver, and all who have a view of its columns, must not touch
 * them any more. Who never releases one does no harm. A column that is only part of something is left alone.
 */
export function release({ channels, aux }: Segment): void {
  const columns = new Set<Float64Array>(Object.values(aux))
  for (const { x, y } of channels) columns.add(x).add(y)
  for (const column of columns) if (isWhole(column)) giveBack(column)
}

const isWhole = (column: Float64Array): column is Float64Array<ArrayBuffer> =>
  column.buffer instanceof ArrayBuffer && column.byteLength === column.buffer.byteLength
