import { type JobState, type PlaceState, stateNames } from './state.ts'

/** The places of each state that the job has: every count of a report is taken from here. */
export const byState = ({ places }: JobState): readonly (readonly PlaceState[])[] =>
  stateNames.map((name) => places.filter(({ state }) => state === name)).filter((some) => some.length > 0)
