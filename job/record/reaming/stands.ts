/** How a hole stands in the loop of clean-up reaming, from its record. */
export interface ReamLoop {
  /** diameters at every measuring, mm: before the first cut, and after each; none where nobody measured */
  readonly measured_mm: readonly (readonly number[])[]
  /** taken off the diameter by all cuts: at the place that lost least, and at most */
  readonly removed?: { readonly least_mm: number; readonly most_mm: number }
  /** steps that are missing since the last cut, and what else keeps it open: each a reason of its own */
  readonly open: readonly string[]
}
