import type { Standing } from './brackets.ts'
import type { Difference } from './differences.ts'
import type { JoinedIndication } from './joined.ts'
import type { IndicationOutcome, ZoneOutcome } from './kinds/examining.ts'
import type { After } from './kinds/keeping.ts'
import type { Moment } from './kinds/parts.ts'
import type { EntryOf } from './kinds.ts'
import type { ReamLoop } from './reaming/stands.ts'

/** What a job's record says now: a projection of its entries, rebuilt by replay, never stored. */

/** States of a place, in the order in which a person has to look at them: what was not examined first. */
export const stateNames = [
  'not examined',
  'voided by a recheck',
  'relevant, not decided',
  'undecided',
  'ream and re-inspect',
  'refer',
  'reject',
  'examined, no relevant indication',
  'no recordable indication, decided'
] as const

export type PlaceStateName = (typeof stateNames)[number]

export type Place = EntryOf<'job-opened'>['places'][number]

/** One examination of a place, and how its scan stands. */
export interface ExaminationState {
  readonly seq: number
  /** place of its recording in the record: the order of the scans */
  readonly keptAt: number
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
  /** diameter of the hole of the reference standard that its standardization was made on */
  readonly standardDiameter_mm?: number
}

/** A hole, a track, or what was under the probe. */
export interface PlaceState {
  readonly place: Place
  /** how it was prepared last, as far as anybody has said */
  readonly preparation?: EntryOf<'place-prepared'>
  readonly state: PlaceStateName
  readonly provisional: boolean
  /** the latest examination of each recording of this place since it was last cut, in the order of the scans */
  readonly examinations: readonly ExaminationState[]
  /** the one that stands for the place: the latest that no recheck has voided */
  readonly latest?: ExaminationState
  /** zones that no standing examination covers, and why */
  readonly missing: readonly { readonly zone: string; readonly why: readonly string[] }[]
  /** indications found in voided scans: they stay open */
  readonly openFromVoided: readonly IndicationOutcome[]
  /** the indications of all its scans, joined; voided scans too: an indication is never made to vanish */
  readonly joined: readonly JoinedIndication[]
  /** scans of the hole as it was before its last cut: they count for nothing now */
  readonly beforeCut: readonly ExaminationState[]
  readonly cuts: readonly EntryOf<'reamed'>[]
  /** of a hole: how it was measured, and what is missing of the loop since its last cut */
  readonly loop?: ReamLoop
  /** the disposition in force: made after the last scan and cut, about everything that waited */
  readonly disposition?: EntryOf<'disposed'>
  /** what two devices that worked apart have said of it otherwise, and nobody has decided since */
  readonly contradictions: readonly string[]
  /** second looks at what was decided of it, those that disagree too */
  readonly looks: readonly EntryOf<'second-look'>[]
  /** what people wanted to be read beside it */
  readonly notes: readonly EntryOf<'noted'>[]
  /** why a person has left it, or what is missing of it, unexamined; nothing of it has been scanned since */
  readonly leftOut?: EntryOf<'left-out'>
  /** the entry that closed it, as long as nothing has come after that speaks against it */
  readonly closed?: EntryOf<'place-closed'>
  /** it was practice: nothing of it is of the part */
  readonly practice?: EntryOf<'practice-marked'>['places'][number]
}

export interface RecheckState {
  readonly seq: number
  readonly entry: EntryOf<'recheck'>
  readonly file: string
  /** places whose scans it voids */
  readonly voids: readonly string[]
}

/** A scan that counts for nothing, and why. */
export interface VoidedScan {
  readonly file: string
  readonly recording: string
  readonly why: string
}

/** A place that has to be scanned again because scans of it are void. */
export interface Redo {
  readonly place: Place
  readonly scans: readonly VoidedScan[]
  /** indications that were found in them stay open */
  readonly open: number
}

/** A place that was closed or delivered on scans that count for nothing since. */
export interface Nonconformance {
  readonly place: Place
  readonly gone: EntryOf<'place-closed' | 'delivered'>
  readonly scans: readonly VoidedScan[]
  /** examined again in every zone, with nothing of the void scans open */
  readonly isMended: boolean
}

export interface EntryLine {
  readonly seq: number
  readonly kind: string
  readonly at: Moment
  readonly by: string
  readonly hash: string
}

/** A correction: what the entry said until then, and what it says since. */
export interface Change {
  readonly entry: EntryOf<'corrected'>
  readonly seq: number
  readonly kind: string
  /** empty where the entry is withdrawn */
  readonly differences: readonly Difference[]
}

export type DecisionEntry = EntryOf<
  'interpreted' | 'disposed' | 'second-look' | 'reamed' | 'left-out' | 'place-closed' | 'job-closed' | 'job-reopened'
>

/** Work handed over, and the entry by which it was taken; absent while nobody has. */
export interface Handover {
  readonly handed: EntryOf<'handed-over'>
  readonly taken?: EntryOf<'taken-over'>
}

/** A drawing of the job, and where places lie on it now. */
export interface DrawingState {
  readonly entry: EntryOf<'drawing-kept'>
  /** in the order in which they were first put there */
  readonly places: readonly DrawnPlace[]
}

export interface DrawnPlace {
  readonly of: 'hole' | 'track' | 'loop'
  readonly name: string
  /** shares of the picture from its left and its upper edge, and the page (1 of what has no pages) */
  readonly x: number
  readonly y: number
  readonly page: number
}

export interface JobState {
  readonly opened: EntryOf<'job-opened'>
  /** name of the technique in force: the document stored last */
  readonly technique?: string
  readonly confirmed?: EntryOf<'technique-confirmed'>
  readonly documents: readonly EntryOf<'document-stored'>[]
  /** what was used, as it stood in the register of the shop on its day */
  readonly held: readonly EntryOf<'held-in-register'>[]
  readonly recordings: readonly EntryOf<'recording-kept'>[]
  /** checks of probes for welds, in the order in which they came */
  readonly probeChecks: readonly EntryOf<'probe-checked'>[]
  readonly standardizations: readonly EntryOf<'standardized'>[]
  readonly rechecks: readonly RecheckState[]
  /** recordings of rechecks and references that nobody has judged: they are no good checks */
  readonly unjudged: readonly EntryOf<'recording-kept'>[]
  readonly places: readonly PlaceState[]
  /** drawings and photos of the component, with the places on them */
  readonly drawings: readonly DrawingState[]
  /** places to be scanned again because scans of them are void */
  readonly redo: readonly Redo[]
  /** places that were closed or delivered on scans that are void since */
  readonly nonconformances: readonly Nonconformance[]
  /** every entry in its place, for the list at the end of a report */
  readonly entries: readonly EntryLine[]
  readonly corrections: readonly EntryOf<'corrected'>[]
  /** the same, each with the entry that it corrects and what it changes there */
  readonly changes: readonly Change[]
  /** everything that people decided, in order, in force or not */
  readonly decisions: readonly DecisionEntry[]
  readonly deliveries: readonly EntryOf<'delivered'>[]
  readonly handovers: readonly Handover[]
  readonly merges: readonly EntryOf<'merged'>[]
  /** what two devices that worked apart have said otherwise of the job, or kept with other facts */
  readonly contradictions: readonly string[]
  /** statement of a capability whose conditions are those of this job; else nothing was demonstrated for it */
  readonly capability?: EntryOf<'capability-attached'>
  /** practice that was mixed in, once it is marked */
  readonly practice?: EntryOf<'practice-marked'>
  /** the entry that closed the job, unless it was opened again */
  readonly closed?: EntryOf<'job-closed'>
  readonly count: number
  readonly head: string
}
