import type { Result } from '@trueloop/ground/refusal'
import type { ExamineEvent } from '../interpret/index.ts'
import type { Segment } from '../scan/index.ts'
import type { Examination } from './examination.ts'

/** The chain for one recording: open, take segment after segment, close. Cutting the recording otherwise changes nothing. */
export interface Run {
  take(segment: Segment): Result<readonly ExamineEvent[]>
  close(): Result<{ readonly events: readonly ExamineEvent[]; readonly examination: Examination }>
}
