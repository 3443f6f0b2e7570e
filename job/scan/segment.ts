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
