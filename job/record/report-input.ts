import type { Refusal } from '@trueloop/ground/refusal'
import type { Examination } from '../examine/index.ts'
import type { HoleStandard, RegisterRow, Technique, WeldStandard } from '../plan/index.ts'
import type { Standardization } from '../standardize/index.ts'
import type { Block } from './blocks.ts'
import type { Moment } from './kinds/parts.ts'
import type { JobState } from './state.ts'

/** A document with its name. */
export interface Named<Document> {
  readonly hash: string
  readonly document: Document
}

/** All that a report may say: the state of the record, the documents it names, and what was refused on the way. */
export interface ReportInput {
  readonly state: JobState
  readonly technique?: Named<Technique>
  /** rows of the shop's registers that the record rests on */
  readonly registered: readonly Named<RegisterRow>[]
  readonly standards: readonly Named<HoleStandard | WeldStandard>[]
  readonly standardizations: readonly Named<Standardization>[]
  /** with their pictures where these are still there */
  readonly examinations: readonly Named<Examination>[]
  /** scans that were not examined at all, and why: no entry says so, since nothing was recorded */
  readonly refused: readonly { readonly subject: string; readonly file: string; readonly refusal: Refusal }[]
  readonly program: { readonly name: string; readonly version: string }
  readonly printed: Moment
}

/** One part of the report under its title. It always says something: silence could be read as "nothing there". */
export interface Section {
  readonly title: string
  /** it tells of the record as a whole, practice too, and not of the component alone */
  readonly ofRecord?: true
  /** absent: always */
  readonly isAsked?: (input: ReportInput) => boolean
  readonly blocks: (input: ReportInput) => readonly Block[]
}
