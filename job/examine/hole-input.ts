import type { Documents } from '../evaluate/index.ts'
import type { Moved } from '../interpret/index.ts'
import type { Equipment, Hole, HoleTechnique } from '../plan/index.ts'
import type { Standardization } from '../standardize/index.ts'
import type { Along } from './along.ts'
import type { Contact } from './contact.ts'

/** What one pass through a hole is examined with. */
export interface HoleExamination {
  readonly technique: HoleTechnique
  readonly standardization: Standardization
  /** name of the standardization document */
  readonly standardizationName: string
  /** with its preparation as it was for this scan */
  readonly hole: Hole
  /** how far the diameter of the standard's hole may be off by its certificate; absent: not stated, counted as 0 */
  readonly standardTolerance_mm?: number
  readonly equipment: Equipment
  readonly rate_Hz: number
  /** whether the recording has an index channel */
  readonly indexed: boolean
  /** name of the recording's content */
  readonly recording: string
  /** documents of how cracks answer, and the set-up that they have to fit */
  readonly documents?: Documents
  /** declared numbers of the method that are moved: to see what depends on them, never for a finding */
  readonly moved?: Moved
}

/** What is known of the place of things once the whole pass has been seen. */
export interface Located {
  readonly along: Along
  readonly contact: Contact
}
