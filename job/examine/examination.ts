import type { Refusal } from '@trueloop/ground/refusal'
import type { Measured, SizeStatement } from '../evaluate/index.ts'
import type { Class, Evidence } from '../interpret/index.ts'
import type { ParentReading } from '../standardize/index.ts'
import type { CoatingMet } from './coating-profile.ts'

/**
 * What an examination found, and just as much what it did not look at. Only this enters the record.
 * Lengths in m, angles in rad, positions on the ruler in revolutions (or m along a track); amplitudes in notch units
 * (1 = the named notch) unless `amplitudeUnit` says "recorded".
 */
export interface Examination {
  readonly kind: 'examination'
  readonly version: 1
  readonly method: number
  readonly application: 'fastener hole' | 'weld' | 'loop'
  readonly subject: string
  readonly amplitudeUnit: 'notch' | 'recorded'
  /** name of the recording's content; set by whoever hashed it */
  readonly recording: string
  /** name of the standardization document, or none */
  readonly standardization: string | 'none'
  readonly position: PositionBasis
  readonly zones: readonly ZoneResult[]
  readonly coverage: Coverage
  readonly dropped: readonly Drop[]
  readonly noise?: {
    readonly matched: number
    readonly threshold: number
    readonly alarm: number
    readonly points: number
    /** indications that noise alone would bring up in a place like this: modelled, not shown; absent by earlier methods */
    readonly falseCalls?: number
  }
  /** what a hole that was measured wider than that of its standard costs; absent where it was not, or not measured */
  readonly oversize?: Oversize
  /** coating along a track; absent in holes, and in examinations by earlier methods */
  readonly coating?: TrackCoatingStated
  readonly indications: readonly Indication[]
  /** reasons for which the whole or a part counts as not examined, or sizes are withheld */
  readonly refusals: readonly Refusal[]
  readonly notes: readonly string[]
  readonly picture?: Picture
}

/** The coating along a track and what it rests on. */
export interface TrackCoatingStated {
  readonly basis: 'measured' | 'given' | 'unknown'
  readonly given_mm?: number
  readonly apparent?: CoatingMet
  readonly parent?: ParentReading
  /** "recorded", or why parent metal tells nothing */
  readonly parentWhy: string
  readonly shims_mm: readonly number[]
}

/** A hole that is wider than that of the reference standard by more than both diameters may be off. */
export interface Oversize {
  /** largest diameter measured, largest less smallest, that of the standard's hole, and the difference with its doubt */
  readonly diameter_m: number
  readonly outOfRound_m: number
  readonly standard_m: number
  readonly wider_m: number
  readonly doubt_m: number
  readonly gauge: string
  /** how the loss is known, in words */
  readonly basis: string
  /** how much farther the coil stands from the wall; this and the rest only where amplitudes are weaker or may be */
  readonly gap_m?: { readonly centered: number; readonly most: number }
  readonly loss_dB?: { readonly centered: number; readonly most: number }
  /** the technique's alarm level as it was lowered for this hole, 1 = the named notch */
  readonly alarm?: number
}

export interface PositionBasis {
  /** how the place along the axis is known, in words */
  readonly axial: string
  readonly axialUncertainty_m: number | 'unknown'
  readonly angle: 'clock' | 'relative angle' | 'position' | 'unknown'
  /** ruler position of the entry and exit edges where they were seen */
  readonly entry?: number
  readonly exit?: number
  readonly pitch_m?: number
}

export interface ZoneResult {
  readonly zone: string
  readonly z0_m: number
  readonly z1_m: number
  readonly state: 'examined' | 'not examined'
  /** share of the zone that was covered, 0 to 1 */
  readonly covered: number
  readonly why: readonly string[]
  /** alarm notch over the noise met here */
  readonly signalToNoise?: number
}

export interface Coverage {
  readonly samples: number
  readonly revolutions: number
  readonly revolutionsInMetal: number
  readonly contact: readonly {
    readonly check: string
    readonly found: string
    readonly needed: string
    readonly met: boolean
  }[]
  readonly speed?: { readonly least: number; readonly mean: number; readonly most: number; readonly unit: string }
}

/** A stretch of ruler or recording that was not used, and why. */
export interface Drop {
  readonly from: number
  readonly to: number
  readonly unit: 'revolution' | 'm' | 'sample'
  readonly samples: number
  readonly reason: string
}

export interface Indication {
  readonly id: string
  readonly zone: string
  readonly layer: number
  readonly place: 'corner' | 'mid-bore' | 'track' | 'unknown'
  /** peak-to-peak of the loop, and of its matched output */
  readonly amplitude: number
  readonly matched: number
  readonly phase_rad: number
  /** lobe order: +1 as the notch's, −1 reversed */
  readonly lobeOrder: 1 | -1
  readonly angle_rad: number | 'unknown'
  readonly z_m: number | 'unknown'
  readonly z0_m: number | 'unknown'
  readonly z1_m: number | 'unknown'
  /** ruler position of the peak */
  readonly ruler: number
  readonly revolutions: number
  readonly signalToNoise: number
  readonly crossedAlarm: boolean
  readonly class: Class
  /** what it is taken for, by the trade's name; absent in examinations by earlier methods */
  readonly cause?: string
  readonly evidence: readonly Evidence[]
  /** coating that it lies under, of a track only: `confirmed` where parent metal beside it agrees */
  readonly coating?: { readonly basis: 'measured' | 'given'; readonly mm: number; readonly confirmed: boolean }
  /** what the size was told from; absent in examinations by earlier methods */
  readonly measured?: Measured
  readonly size: SizeStatement
  readonly proposal: string
  readonly snippet: Snippet
}

/** What the report draws of one indication. */
export interface Snippet {
  readonly step: number
  readonly stepUnit: 'rad' | 'm' | 's'
  readonly x: readonly number[]
  readonly y: readonly number[]
  /** matched output along the axis at the angle of the peak, one value a revolution, and where the first is */
  readonly along: readonly number[]
  readonly alongFrom: number
}

/** The unrolled part for the eye only: largest |matched output| a cell; rows along the axis. A derived cache, bounded. */
export interface Picture {
  readonly rows: number
  readonly columns: number
  readonly rowFrom: number
  readonly rowStep: number
  readonly values: readonly number[]
}
