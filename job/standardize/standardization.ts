import type { Equipment } from '../plan/index.ts'

/**
 * What a reference scan teaches, for the set-up it holds for. An immutable document, named by the hash of its canonical
 * JSON. Applied to a signal: subtract nothing (the band has no mean), multiply by `turn`, and lift-off points to −x while
 * 1 is the peak-to-peak of the named notch.
 */
export interface Standardization {
  readonly kind: 'standardization'
  readonly version: 1
  readonly method: number
  readonly application: 'fastener hole' | 'weld'
  readonly standard: string
  readonly equipment: Equipment
  readonly frequency_kHz: number
  readonly metal: string
  /** class of hole diameter it holds for, mm; 0 for a track */
  readonly diameter_mm: number
  /** speeds met in the reference scan and the window it states, revolutions (or mm) a second */
  readonly speed_window: { readonly least: number; readonly most: number; readonly unit: '1/s' | 'mm/s' }
  /** complex factor from recorded to standardized units */
  readonly turn: { readonly x: number; readonly y: number }
  readonly rotation: {
    readonly angle_rad: number
    readonly uncertainty_rad: number
    readonly axisRatio: number
    readonly points: number
    readonly basis: string
  }
  /** the step from metal to air in recorded units, turned by `turn`; sizes the proof of contact */
  readonly airStep: { readonly x: number; readonly y: number; readonly spread: number }
  readonly named: string
  readonly notches: readonly NotchReading[]
  /** the named notch's own signal on the ruler, standardized, `[2·half+1]` points */
  readonly form: { readonly half: number; readonly x: readonly number[]; readonly y: readonly number[] }
  /** second moments of the conditioned wall signal, standardized, and of the matched output */
  readonly noise: Noise
  /** wall signal less its revolution mean, before the band: what a live probe shows, standardized */
  readonly wallMotion: number
  readonly band: {
    readonly low: number
    readonly high: number
    readonly unit: 'cycles per revolution' | 'cycles per mm'
  }
  readonly limits: readonly LimitMet[]
}

export interface Noise {
  readonly xx: number
  readonly xy: number
  readonly yy: number
  /** robust standard deviation of the matched output, 1 = the named notch */
  readonly matched: number
  readonly points: number
}

export interface NotchReading {
  readonly id: string
  readonly place: string
  readonly depth_mm: number
  readonly length_mm: number
  /** peak-to-peak, 1 = the named notch */
  readonly amplitude: number
  /** peak of the matched output, 1 = the named notch */
  readonly matched: number
  /** angle of the line between the lobes, later less earlier, standardized plane */
  readonly phase_rad: number
  /** what a recheck compares: the named notch's shape fitted over the notch's own revolutions, standardized plane */
  readonly fitted: { readonly x: number; readonly y: number }
  /** standard deviation of `fitted` from the noise of the clear wall, by component */
  readonly fittedNoise: { readonly x: number; readonly y: number }
  readonly angle_rad: number
  readonly z_m: number
  /** where it was found less where the certificate has it */
  readonly angleOff_rad: number
  readonly zOff_m: number
}

/** One limit of the technique and how it was met. */
export interface LimitMet {
  readonly limit: string
  readonly needed: string
  readonly found: string
  readonly met: boolean
}
