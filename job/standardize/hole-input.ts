import { PI } from '@trueloop/ground/numerics'
import type { Result } from '@trueloop/ground/refusal'
import { bandFromFootprint, type Equipment, type HoleStandard, type HoleTechnique } from '../plan/index.ts'
import type { Segment } from '../scan/index.ts'
import { type Band, type Dropped, type Turning, UNIT } from '../signal/index.ts'
import type { Edges } from './edges.ts'
import type { MetNotch } from './notches.ts'
import type { DepthScale } from './place.ts'
import type { Rotation } from './rotation.ts'
import type { Standardization } from './standardization.ts'
import type { Wall } from './wall.ts'

export interface HoleReference {
  readonly technique: HoleTechnique
  readonly standard: HoleStandard
  readonly equipment: Equipment
  readonly rate_Hz: number
  /** whether the recording has an index channel */
  readonly indexed: boolean
}

export interface ReferenceRun {
  take(segment: Segment): Result<void>
  close(): Result<Standardized>
}

export interface Standardized {
  readonly standardization: Standardization
  readonly dropped: readonly Dropped[]
  readonly notes: readonly string[]
}

/** The band of a technique for a hole of this diameter, cycles per revolution. */
export const bandOf = (technique: HoleTechnique, diameter_mm: number): Band =>
  technique.band === 'from the footprint'
    ? bandFromFootprint(diameter_mm * 1e-3, technique.lobe_spacing_mm * 1e-3)
    : { low: technique.band.low, high: technique.band.high }

/** Distance of the two lobes in ruler points. */
export const spacingOf = (technique: HoleTechnique, diameter_mm: number): number =>
  (technique.lobe_spacing_mm / (PI * diameter_mm)) * UNIT

/** A reference scan as gathered, before anything is read from it; `loss` is what the band takes of the pulse. */
export interface Gathered {
  readonly wall: Wall
  readonly band: Band
  readonly turning: Turning
  readonly loss: number
}

/** What was found on the wall: faces, clear points, lift-off, notches. */
export interface Read extends Gathered {
  readonly edges: Edges
  readonly scale: DepthScale
  readonly free: Uint8Array
  readonly rotation: Rotation
  readonly met: readonly MetNotch[]
  readonly spacing: number
  readonly turned_deg: number
}
