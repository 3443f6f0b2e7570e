/**
 * The wall of one pass as it is judged, on the ruler: element i of every column lies at ruler point `first + i · step`
 * (512 ruler points a revolution), element i + perTurn one revolution further on. There is no seam at the index pulse: a
 * row is only a view. Bounded: a pass longer than can be placed in depth is not kept.
 */
export interface Sheet {
  readonly first: number
  readonly step: number
  readonly perTurn: number
  readonly length: number
  /** standardized signal in the band: 1 = peak-to-peak of the named notch, lift-off along −x */
  readonly x: Float64Array
  readonly y: Float64Array
  /** complex size of the named notch's shape fitted at each place; the named notch itself has the size 1 */
  readonly cx: Float64Array
  readonly cy: Float64Array
  /** content of the placed signal once, twice and three times a revolution, standardized, `[length / perTurn, 3]` */
  readonly harmonics: Float64Array
}
