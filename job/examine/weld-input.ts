import type { Result } from '@trueloop/ground/refusal'
import type { TrackStudy } from '../evaluate/index.ts'
import type { Moved } from '../interpret/index.ts'
import type { Equipment, WeldStandard, WeldTechnique } from '../plan/index.ts'
import type { PlaceBasis } from '../signal/index.ts'
import type { ParentReading, Standardization } from '../standardize/index.ts'

/** What one run along a track is examined with. */
export interface WeldExamination {
  readonly technique: WeldTechnique
  readonly standardization: Standardization
  readonly standardizationName: string
  readonly standard: WeldStandard
  readonly track: {
    readonly id: string
    readonly length_mm: number
    /** coating as a person states it; counts only where no absolute channel tells it */
    readonly coating_mm?: number | undefined
    /** whether the plate ends where the track does */
    readonly ends_with_plate?: boolean | undefined
  }
  /** what flat parent metal beside the track showed, or why it could not be read */
  readonly parent?: Result<ParentReading>
  /** an encoder where nothing else is said */
  readonly places?: PlaceBasis
  readonly equipment: Equipment
  readonly rate_Hz: number
  readonly recording: string
  /** how cracks scatter about slots, by a named study; without one no depth has an interval */
  readonly study?: TrackStudy
  /** declared numbers moved for a plateau */
  readonly moved?: Moved
}
