import type { SizeFigures, TrialScore } from './score.ts'

/**
 * The lines of a trial's score that are about sizes: notch-equivalent first, then by the ratio. The interval of a
 * notch-equivalent depth is one of a notch: whether it holds a crack is not asked.
 */
export const sizeLines = ({ sizes, withRatio }: TrialScore): readonly string[] => [
  `depth, notch-equivalent: ${depthOf(sizes)}`,
  `depth, by a response ratio fitted leaving one hole out: ${depthOf(withRatio)}; intervals: ${shareOf(withRatio.depthIntervalsTrue, withRatio.depthIntervals)}`,
  `length, footprint taken out: ${figure(sizes.lengthMae_mm)} over ${sizes.lengthScored}; intervals: ${shareOf(sizes.lengthIntervalsTrue, sizes.lengthIntervals)}; bounds: ${shareOf(sizes.lengthBoundsTrue, sizes.lengthBounds)}`
]

const depthOf = (one: SizeFigures): string =>
  `${figure(one.depthMae_mm)} over ${one.depthScored}; bounds: ${shareOf(one.boundsTrue, one.bounds)}`

const shareOf = (are: number, of: number): string => (of === 0 ? 'none' : `${are} of ${of} true`)

const figure = (mae: number | undefined): string =>
  mae === undefined ? 'no value given' : `mean absolute error ${mae.toFixed(3)} mm`
