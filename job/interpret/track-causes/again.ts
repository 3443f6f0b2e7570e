import { type Criterion, type Weighed, weighed } from '../causes/index.ts'

/** As `weighed`, for what is not of the part: said each time, so that nothing is passed over before a second run. */
export const weighedAgain = (criteria: readonly Criterion[]): Weighed =>
  weighed(criteria, [
    {
      what: 'what to do',
      sentence: 'Run the track again first: it is false only if it does not come again.',
      speaks: 'neither'
    }
  ])
