/** What the reader of a recording gives, on the way and at the end. */
import type { Result } from '@trueloop/ground/refusal'
import type { Loss } from './losses.ts'
import type { Segment } from './segment.ts'

/** What a whole recording turned out to be. Sample numbers count what is missing too. */
export interface Scan {
  readonly format: string
  /** stated rate, else the header's, else the trend of all time stamps */
  readonly rate_Hz: number
  readonly rateReason: string
  /** samples in the segments, damaged ones with them */
  readonly samples: number
  /** samples that the segments jump over, or that the recording announced and does not hold */
  readonly missing: number
  /** samples that are NaN in x and y */
  readonly damaged: number
  readonly losses: readonly Loss[]
  readonly warnings: readonly string[]
  readonly notes: readonly string[]
  /** unit of x and y where the recording states one */
  readonly channelUnit?: string
}

/**
 * Takes the bytes of the whole recording from the first one on, cut anywhere. The segments laid end to end, and the
 * Scan, do not depend on the cutting. After a refusal every further call gives the same refusal.
 */
export interface ScanReader {
  /** the rate as known before the first sample is read: use this one to examine */
  readonly rate_Hz: number
  push(bytes: Uint8Array): Result<readonly Segment[]>
  end(): Result<{ readonly segments: readonly Segment[]; readonly scan: Scan }>
}
