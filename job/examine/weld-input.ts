import type { Equipment, WeldStandard, WeldTechnique } from '../plan/index.ts'
import type { Standardization } from '../standardize/index.ts'

/** What one run along a track is examined with. */
export interface WeldExamination {
  readonly technique: WeldTechnique
  readonly standardization: Standardization
  readonly standardizationName: string
  readonly standard: WeldStandard
  readonly track: { readonly id: string; readonly length_mm: number }
  readonly equipment: Equipment
  readonly rate_Hz: number
  readonly recording: string
}
