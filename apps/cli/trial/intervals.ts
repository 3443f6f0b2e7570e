import { foundIn, type TrialOutcome } from './ratio.ts'

/** How many of the intervals and of the "≤" bounds that were stated of found flaws hold the truth. */
export interface Intervals {
  readonly depthIntervals: number
  readonly depthIntervalsTrue: number
  readonly lengthIntervals: number
  readonly lengthIntervalsTrue: number
  readonly lengthBounds: number
  readonly lengthBoundsTrue: number
}

interface Ends {
  readonly lower: number | undefined
  readonly upper: number | undefined
}

export function intervalsOf(outcomes: readonly TrialOutcome[]): Intervals {
  const finds = outcomes.flatMap(foundIn)
  const depths = finds.flatMap(({ flaw, call: { statement } }) =>
    statement.depth_mm === undefined
      ? []
      : [holds({ lower: statement.lower_mm, upper: statement.upper_mm }, flaw.depth_mm)]
  )
  const lengths = finds.filter(({ call: { statement } }) => statement.length_upper_mm !== undefined)
  const lengthHolds = ({ flaw, call: { statement } }: (typeof finds)[number]): boolean =>
    holds({ lower: statement.length_lower_mm, upper: statement.length_upper_mm }, flaw.length_mm)
  const values = lengths.filter(({ call: { statement } }) => statement.length_mm !== undefined)
  const bounds = lengths.filter(({ call: { statement } }) => statement.length_mm === undefined)
  return {
    depthIntervals: depths.length,
    depthIntervalsTrue: depths.filter((is) => is).length,
    lengthIntervals: values.length,
    lengthIntervalsTrue: values.filter(lengthHolds).length,
    lengthBounds: bounds.length,
    lengthBoundsTrue: bounds.filter(lengthHolds).length
  }
}

/** An end that is not stated is open. */
const holds = ({ lower, upper }: Ends, value: number): boolean =>
  (lower === undefined || value >= lower) && (upper === undefined || value <= upper)
