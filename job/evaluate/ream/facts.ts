import type { ReamRules } from '../../plan/index.ts'

/** Steps of a hole that is reamed, each done by a person. `further cut` is the cut itself, where the procedure asks. */
export const reamSteps = [
  'ream chosen',
  'reamed',
  'cleaned',
  'measured',
  'standardized at that diameter',
  'examined',
  'further cut',
  'closed'
] as const

export type ReamStep = (typeof reamSteps)[number]

/**
 * What all scans at this diameter show together, with what persons decided of it: the last word on this diameter. A scan
 * that shows nothing where another shows something makes none of it by itself.
 */
export type Shown = 'relevant' | 'undecided' | 'not examined' | 'no relevant indication'

/** A step that was done, with what it has to say. */
export type ReamFact =
  | { readonly step: 'ream chosen' | 'further cut'; readonly diameter_mm: number }
  | { readonly step: 'reamed' | 'cleaned' | 'closed' }
  | { readonly step: 'measured'; readonly diameters_mm: readonly number[] }
  /** diameter of the hole of the reference standard */
  | { readonly step: 'standardized at that diameter'; readonly diameter_mm: number }
  | { readonly step: 'examined'; readonly shows: Shown }

/** A hole before any of it. */
export interface ReamStart {
  readonly rules: ReamRules | undefined
  /** diameters before the first cut, mm */
  readonly measured_mm: readonly number[]
}

/** How far a hole is. */
export interface ReamState {
  /** what the loop asks for now; a person chooses where it is more than one */
  readonly next: readonly ReamStep[]
  /** what may be done again besides */
  readonly again: readonly ReamStep[]
  /** whether the loop lets it be closed; the rest of the record may still be against it */
  readonly closable: boolean
  /** every measuring so far, as a figure takes it */
  readonly measured_mm: readonly (readonly number[])[]
  readonly cuts: number
  /** what keeps it open or has to be referred, in words */
  readonly open: readonly string[]
}
