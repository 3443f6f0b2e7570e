import type { Evidence, Weighed } from './cause.ts'

/** One thing that a cause asks for: how far it is met, 0 to 1, and the sentence that says so with its figure, once it is asked for. */
export interface Criterion {
  readonly what: string
  readonly share: number
  readonly sentence: () => string
}

/** Shares from which a criterion speaks for a cause, and up to which it speaks against. */
const SPEAKS = { for: 0.6, against: 0.4 }

/** A cause fits as well as the weakest thing that it asks for: nothing else makes good for it. */
export const weighed = (criteria: readonly Criterion[], more: readonly Evidence[] = []): Weighed => ({
  score: weakest(criteria),
  get reasons() {
    return [...criteria.map(said), ...more]
  }
})

function weakest(criteria: readonly Criterion[]): number {
  let least = 1
  for (const { share } of criteria) least = Math.min(least, share)
  return least
}

const said = ({ what, share, sentence }: Criterion): Evidence => ({ what, sentence: sentence(), speaks: speaks(share) })

/** As `weighed`, for what is not of the part: said each time, so that nothing is passed over before a second scan. */
export const weighedFalse = (criteria: readonly Criterion[]): Weighed =>
  weighed(criteria, [
    {
      what: 'what to do',
      sentence: 'Clean the hole and the probe and rescan first: it is false only if it does not come again.',
      speaks: 'neither'
    }
  ])

const speaks = (share: number): Evidence['speaks'] =>
  share >= SPEAKS.for ? 'for' : share <= SPEAKS.against ? 'against' : 'neither'

/** 0 at `none` and beyond, 1 at `full` and beyond, straight between; either may be the larger one. */
export const grade = (value: number, none: number, full: number): number =>
  Math.max(0, Math.min(1, (value - none) / (full - none)))

/** Raises a share to at least `floor`: for what helps a cause but is not needed. */
export const atLeast = (floor: number, share: number): number => floor + (1 - floor) * share
