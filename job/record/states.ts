import type { JobState, PlaceState, PlaceStateName } from './state.ts'

/** States in the order of their weight for whoever reads: what nobody has looked at comes first. */
const order: readonly PlaceStateName[] = [
  'not examined',
  'voided by a recheck',
  'relevant, not decided',
  'undecided',
  'examined, no relevant indication'
]

/** The places of each state that the job has: every count of a report is taken from here. */
export const byState = ({ places }: JobState): readonly (readonly PlaceState[])[] =>
  order.map((name) => places.filter(({ state }) => state === name)).filter((some) => some.length > 0)
