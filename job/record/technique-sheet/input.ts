import type { Settings, Sheet } from '../../plan/index.ts'
import type { Moment } from '../kinds/parts.ts'

/** A technique on paper, with what was worked out for it; before any job of it is done. */
export interface TechniqueSheet {
  readonly sheet: Sheet
  /** Absent where nothing could be worked out: `why` then says why. */
  readonly settings?: Settings
  readonly why?: string
  /** Hash of the canonical JSON of the technique: the name under which a job has it. */
  readonly document: string
  readonly program: { readonly name: string; readonly version: string }
  readonly printed: Moment
}
