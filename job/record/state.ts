import type { Standing } from './brackets.ts'
import type { JoinedIndication } from './joined.ts'
import type { IndicationOutcome, ZoneOutcome } from './kinds/examining.ts'
import type { After } from './kinds/keeping.ts'
import type { Moment } from './kinds/parts.ts'
import type { EntryOf } from './kinds.ts'

/** What a job's record says now: a projection of its entries, rebuilt by replay, never stored. */

export type PlaceStateName =
  | 'not examined'
  | 'examined, no relevant indication'
  | 'undecided'
  | 'relevant, not decided'
  | 'voided by a recheck'

export type Place = EntryOf<'job-opened'>['places'][number]

/** One examination of a place, and how its scan stands. */
export interface ExaminationState {
  readonly seq: number
  readonly examination: string
  readonly recording: string
  readonly file: string
  readonly standardization: string | 'none'
  readonly method: number
  readonly standing: Standing | { readonly standing: 'no set-up to check' }
  readonly zones: readonly ZoneOutcome[]
  readonly indications: readonly IndicationOutcome[]
  readonly refusals: readonly string[]
  /** what was done otherwise for this scan, and the set-up that its standardization was made for */
  readonly after?: After
  readonly setUp?: EntryOf<'recording-kept'>['setUp']
}

/** A hole, a track, or what was under the probe. */
export interface PlaceState {
  readonly place: Place
  readonly state: PlaceStateName
  readonly provisional: boolean
  /** the latest examination of each recording of this place, in the order of the scans */
  readonly examinations: readonly ExaminationState[]
  /** the one that stands for the place: the latest that no recheck has voided */
  readonly latest?: ExaminationState
  /** zones that no standing examination covers, and why */
  readonly missing: readonly { readonly zone: string; readonly why: readonly string[] }[]
  /** indications found in voided scans: they stay open */
  readonly openFromVoided: readonly IndicationOutcome[]
  /** the indications of all its scans, joined; voided scans too: an indication is never made to vanish */
  readonly joined: readonly JoinedIndication[]
  /** the entry that closed it, as long as nothing has come after that speaks against it */
  readonly closed?: EntryOf<'place-closed'>
}

export interface RecheckState {
  readonly seq: number
  readonly entry: EntryOf<'recheck'>
  readonly file: string
  /** places whose scans it voids */
  readonly voids: readonly string[]
}

export interface EntryLine {
  readonly seq: number
  readonly kind: string
  readonly at: Moment
  readonly by: string
  readonly hash: string
}

export interface JobState {
  readonly opened: EntryOf<'job-opened'>
  /** name of the technique in force: the document stored last */
  readonly technique?: string
  readonly confirmed?: EntryOf<'technique-confirmed'>
  readonly documents: readonly EntryOf<'document-stored'>[]
  readonly recordings: readonly EntryOf<'recording-kept'>[]
  readonly standardizations: readonly EntryOf<'standardized'>[]
  readonly rechecks: readonly RecheckState[]
  /** recordings of rechecks and references that nobody has judged: they are no good checks */
  readonly unjudged: readonly EntryOf<'recording-kept'>[]
  readonly places: readonly PlaceState[]
  /** every entry in its place, for the list at the end of a report */
  readonly entries: readonly EntryLine[]
  readonly corrections: readonly EntryOf<'corrected'>[]
  readonly count: number
  readonly head: string
}
