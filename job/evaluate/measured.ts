import type { ResponseRatio, ResponseStudy } from '../plan/index.ts'
import type { FittedRows } from '../standardize/index.ts'
import type { Faces } from './length.ts'
import type { Sizing } from './parameters.ts'
import type { Setup } from './ratio.ts'
import type { RowNoise } from './rows.ts'

/** What was measured of a flaw. */
export interface Measured {
  readonly amplitude: number
  readonly place: 'corner' | 'mid-bore' | 'track'
  /** −6 dB extent along the axis as measured, m; not known where the axis is not */
  readonly extent_m?: number
  /** face or joint up to which that extent is stated, where it would go on beyond */
  readonly cutAt?: string
  /** fitted sizes along the axis at the angle of the peak, and their scatter in one revolution */
  readonly rows?: FittedRows
  readonly noise?: RowNoise
  /** faces of the layer that it lies in */
  readonly faces?: Faces
}

/** What a size may be told by besides the notches. Nothing here has a value of its own. */
export interface SizedUnder {
  /** scatter of the fitted size in one revolution of the reference scan */
  readonly noise?: RowNoise
  /** documents of how cracks answer, and the set-up that they have to fit */
  readonly documents?: Documents
  readonly numbers?: Sizing
}

export interface Documents {
  readonly setup: Setup
  readonly ratios: readonly ResponseRatio[]
  readonly studies: readonly ResponseStudy[]
}
