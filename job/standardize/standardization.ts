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
  /**
   * Scatter of the complex size of the named notch's shape (`fittedShape` with `unitShape(form)`) fitted at single places of
   * the clear wall, one revolution each; standardized plane, x along lift-off; 1 = the named notch, squared. Absent in
   * documents of method 1 and of tracks.
   */
  readonly sizeNoise?: FittedNoise
  /** the same of sizes joined over the revolutions that pass one width of the field; with the pitch of the reference scan */
  readonly joinedNoise?: JoinedNoise
  /** absent where no mid-bore notch stands far enough above the noise, in documents of method 1 and of tracks */
  readonly axial?: AxialProfile
  /** wall signal less its revolution mean, before the band: what a live probe shows, standardized */
  readonly wallMotion: number
  readonly band: {
    readonly low: number
    readonly high: number
    readonly unit: 'cycles per revolution' | 'cycles per mm'
  }
  readonly limits: readonly LimitMet[]
  /** what slots and absolute channel answer under coatings; of a weld only, absent in documents of earlier methods */
  readonly coating?: CoatingResponse
}

/** Response of a block over depth and coating. It holds between the thinnest and the thickest shim, nowhere else. */
export interface CoatingResponse {
  /** in the order of their thickness */
  readonly shims: readonly ShimResponse[]
  /** each shim between two others told from the others alone: how far that is from what was read */
  readonly leftOut: readonly LeftOut[]
  /** direction of lift-off on the block, recorded plane, a line, and its standard uncertainty */
  readonly liftOff: { readonly angle_rad: number; readonly doubt_rad: number }
}

export interface ShimResponse {
  readonly shim_mm: number
  /** the absolute channel over clear block, recorded units; absent where there is no such channel */
  readonly absolute?: { readonly level: number; readonly spread: number }
  readonly slots: readonly SlotAnswer[]
}

export interface SlotAnswer {
  readonly id: string
  readonly depth_mm: number
  /** vertical part of its peak, 1 = the named slot under the thinnest shim */
  readonly amplitude: number
  /** direction of its peak, standardized plane */
  readonly phase_rad: number
  /** standard deviation of the amplitude as a share of it: noise of the block, and what leaving a shim out misses */
  readonly scatter: number
}

export interface LeftOut {
  readonly shim_mm: number
  /** largest share by which an interpolated slot misses the one that was read, and what of that noise explains, doubled */
  readonly slots: number
  readonly noise: number
  /** by how much the coating is missed, mm; absent where there is no absolute channel */
  readonly coating_mm?: number
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
  readonly fromLiftOff?: FromLiftOff
  /**
   * −6 dB extent along the axis, m: from the revolution of the largest fitted size outward to where the part of the fitted
   * size along the notch's own direction falls below half of it, linear between revolutions, no further than a face. With
   * the footprint of the probe in it.
   */
  readonly extent_m?: number
  readonly rows?: FittedRows
}

/**
 * Angle between lift-off (the x axis) and the line of `fitted`, rad, 0 to π/2, and its standard uncertainty: that of the
 * lift-off direction (bootstrap) and that of `fitted` across its own line (noise of the clear wall), in quadrature.
 */
export interface FromLiftOff {
  readonly angle_rad: number
  readonly repeatability_rad: number
  /** what the angle has to reach: three times its repeatability, and the least angle of the technique where it states one */
  readonly needed_rad: number
}

/**
 * Complex sizes of the named notch's shape at the angle of a notch, revolution by revolution, at most 12 on either side of
 * the strongest: columns `[revolution]`, in the order of the ruler. Standardized plane, x along lift-off, 1 = the named
 * notch at its strongest revolution; `z_m` is the depth from the entry face, below 0 or beyond the thickness in air.
 */
export interface FittedRows {
  readonly z_m: readonly number[]
  readonly x: readonly number[]
  readonly y: readonly number[]
}

/** A 2×2 covariance, robust, of so many places. */
export interface FittedNoise {
  readonly xx: number
  readonly xy: number
  readonly yy: number
  readonly points: number
}

/** As `FittedNoise`, joined; `perWidth` revolutions passed over one width of the field. */
export interface JoinedNoise extends FittedNoise {
  readonly perWidth: number
}

/**
 * What the probe makes of a notch along the axis, as measured: the fitted size at a revolution as a share of the largest
 * one, at the distance `dz_m` from the middle of the notch's −6 dB extent. Of the smallest mid-bore notch that stands at
 * least 10 times above `sizeNoise` in one revolution: the nearest to the footprint itself.
 */
export interface AxialProfile {
  readonly notch: string
  readonly length_mm: number
  readonly profile: readonly { readonly dz_m: number; readonly share: number }[]
}

/** One limit of the technique and how it was met. */
export interface LimitMet {
  readonly limit: string
  readonly needed: string
  readonly found: string
  readonly met: boolean
}
