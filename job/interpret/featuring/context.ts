/** A place on the ruler of a sheet: where its fitted size has its peak (a fraction of a point is allowed), and the sign there. */
export interface Place {
  readonly at: number
  readonly sign: 1 | -1
  /** deviations of the noise by which it stands out, joined over revolutions; 0 where only the alarm speaks */
  readonly statistic: number
}

/** What a place is measured against. */
export interface FeatureContext {
  /** the named notch's own standardized signal at 512 points a revolution, `[2·half + 1]` */
  readonly form: { readonly half: number; readonly x: readonly number[]; readonly y: readonly number[] }
  /** angles of the notches as lines, rad */
  readonly notchPhases: readonly number[]
  /** covariance of the sheet's c where nothing is */
  readonly noise: { readonly xx: number; readonly xy: number; readonly yy: number }
  /** revolutions that pass over the flaw sought and the footprint together: at half its peak it answers on about half of them */
  readonly expectedRows: number
  /** depth below the entry face of a ruler point, m */
  readonly depth?: ((point: number) => number) | undefined
  readonly layers?: readonly Layer[] | undefined
  /** ruler points to both sides of a place that belong to its loop */
  readonly half: number
  /** declared numbers (FEATURING) moved for a plateau, by name */
  readonly moved?: Readonly<Record<string, number>> | undefined
}

export interface Layer {
  readonly z0_m: number
  readonly z1_m: number
}
