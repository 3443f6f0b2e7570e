import type { Result } from '@trueloop/ground/refusal'
import type { ExamineEvent } from '../interpret/index.ts'
import type { Segment } from '../scan/index.ts'
import type { Examination } from './examination.ts'
import type { Wall } from './wall.ts'

/** The chain for one recording: open, take segment after segment, close. Cutting the recording otherwise changes nothing. */
export interface Run {
  take(segment: Segment): Result<readonly ExamineEvent[]>
  close(asked?: Asked): Result<Closed>
}

/** Who looks on while a recording is examined: what they are given holds only during the call. */
export interface Watching {
  /** a revolution (its number) as recorded, placed by angle: `[element]`, recorded units, before the band */
  readonly placed?: (revolution: number, x: Float64Array, y: Float64Array) => void
}

/** What is wanted beside the findings. */
export interface Asked {
  readonly wall?: boolean
}

export interface Closed {
  readonly events: readonly ExamineEvent[]
  readonly examination: Examination
  /** where it was asked for, of a hole */
  readonly wall?: Wall
}
