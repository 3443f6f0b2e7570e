import type { FieldProbe } from './field/probe.ts'

/**
 * A scene: everything that a simulated recording of a hole is made from, all of it explicit. Lengths in m, times in s,
 * places on the wall and turns of the probe in turns (1 = once around), directions in the complex plane in rad.
 * Signals are in units of the pair: 1 is the peak-to-peak that an endlessly large notch would give. Wall angles count
 * from the wall's own zero, in the sense in which the wall is drawn.
 */

export interface HoleScene {
  readonly hole: HoleForm
  readonly motion: Motion
  readonly recorder: Recorder
  readonly probe: PairProbe
  readonly instrument: Instrument
  readonly wall: WallState
  readonly joints: readonly Joint[]
  readonly flaws: readonly Flaw[]
  readonly damage: readonly Damage[]
  /** what belongs to the part and is no flaw; absent: nothing of the kind */
  readonly features?: readonly Feature[]
  readonly disturbances: Disturbances
  readonly noise: Noise
  readonly fault: Fault
}

export interface HoleForm {
  readonly diameter_m: number
  readonly grip_m: number
  readonly entry: Face
  readonly exit: Face
  /** what keeps the coil off the wall; absent: the probe fits */
  readonly gap?: Gap
}

/**
 * Distance of the coil from the wall beyond a fit: the same all along (an oversize hole), and growing as a cone toward the
 * entry face. With the distance the answer of the metal falls by e every `decay_m`, and the coil sees air as much more.
 */
export interface Gap {
  readonly oversize_m: number
  readonly countersink: { readonly depth_m: number; readonly half_angle_rad: number }
  readonly decay_m: number
}

/**
 * A face as the probe sees it: the signal goes from air to metal over `width_m`, centered on the face. A face that is not
 * square to the hole lies at z + tilt · cos(2π(wall − tilt_turn)).
 */
export interface Face {
  readonly width_m: number
  readonly tilt_m: number
  readonly tilt_turn: number
}

/**
 * Speed is rpm/60 · (1 + Σ share · sin(2π(cycles · τ + phase))), τ the turns at the nominal speed, so that another rpm is
 * the same scan stretched in time. `sense` −1: the probe turns against the wall's own angle.
 */
export interface Motion {
  readonly rpm: number
  readonly drift: readonly Drift[]
  readonly sense: 1 | -1
  readonly feed: Feed
}

export interface Drift {
  readonly share: number
  readonly cycles_per_turn: number
  readonly phase_turn: number
}

/** Advance goes with the turns of the probe. A profile is straight between its points; it may dwell and reverse. */
export type Feed =
  | {
      readonly kind: 'constant'
      readonly pitch_m: number
      readonly leadIn_turn: number
      readonly leadOut_turn: number
    }
  | { readonly kind: 'profile'; readonly points: readonly { readonly turn: number; readonly z_m: number }[] }

/**
 * Rising edges of the index, through half its height, lie where the turns are first_turn + 0, 1, 2 …; there the wall's
 * angle is datum_turn. `rise_turn` is the length of each flank: longer than a sample makes the crossing exact between
 * samples, 0 gives a pulse of two values.
 */
export interface Recorder {
  readonly rate_Hz: number
  readonly index: {
    readonly first_turn: number
    readonly datum_turn: number
    readonly width_turn: number
    readonly rise_turn: number
    readonly height: number
    readonly marks: Marks
  }
}

/** What is wrong with marks, by their numbers from 0. A doubled one comes again after `doubled_turn`, a bounced one after `bounce_turn`. */
export interface Marks {
  readonly none: boolean
  readonly lost: readonly number[]
  readonly doubled: readonly number[]
  readonly doubled_turn: number
  readonly bounced: readonly number[]
  readonly bounce_turn: number
}

/**
 * Two like pick-ups side by side in the sense of rotation, subtracted. Each sees the wall through a bell along the angle
 * and one along the axis (`footprint_m` at half height). `imbalance` is the share by which the second one is weaker.
 */
export interface PairProbe {
  readonly lobe_spacing_m: number
  readonly footprint_m: number
  readonly imbalance: number
  readonly air: { readonly size: number; readonly direction_rad: number }
  readonly liftoff: { readonly per_m: number; readonly direction_rad: number }
  readonly flaw: FlawResponse
  /**
   * Distance along the axis of the two places of a split pair that answer most. What is short against it answers twice as
   * they pass it, unless it touches a face or a joint. 0 or absent: one maximum. source: split-d-2011
   */
  readonly axial_lobes_m?: number
  /** a probe that stands askew in the hole; absent: it stands square */
  readonly tilt?: ProbeTilt
  /** the windings; flaws then answer as the field has it, in units of its notch, and `flaw` gives the crack factor alone */
  readonly field?: FieldProbe
  /** by so much flaws lie elsewhere than the field has them, as a notch was measured; absent: as the field has them */
  readonly flawTurn_rad?: number
}

/** Lift-off once a turn all along that does not pass through the pair, and a share by which the pair is less even. */
export interface ProbeTilt {
  readonly liftoff_m: number
  readonly wall_turn: number
  readonly imbalance: number
}

/**
 * Peak-to-peak of the pair over a flaw: full · area/(area + half_area), area = depth · length, times crack_factor for a
 * crack; its direction is direction + turn_per_m · depth.
 */
export interface FlawResponse {
  readonly full: number
  readonly half_area_m2: number
  readonly direction_rad: number
  readonly turn_rad_per_m: number
  readonly crack_factor: number
}

/** recorded = filtered (gain · (signal turned by rotation)) + offset, in recorded units. */
export interface Instrument {
  readonly gain: number
  readonly rotation_rad: number
  readonly offset: { readonly x: number; readonly y: number }
  /** filters before the recorder, one after another; they have settled on the first sample. Absent: none */
  readonly filters?: readonly InstrumentFilter[]
}

/** Causal Butterworth filter, 3 dB at its corner. */
export interface InstrumentFilter {
  readonly kind: 'high-pass' | 'low-pass'
  readonly order: 1 | 2
  readonly corner_Hz: number
}

/**
 * Lift-off of the wall in m: eccentric (once a turn), oval (twice), rough (fixed on the wall); wobble belongs to the probe.
 * What is random on the wall is drawn from `pattern`, so that a hole scanned again is the same hole, or from the seed.
 */
export interface WallState {
  readonly pattern: number | 'from the seed'
  readonly eccentricity_m: number
  readonly eccentricity_turn: number
  readonly ovality_m: number
  readonly ovality_turn: number
  readonly roughness: { readonly rms_m: number; readonly length_m: number }
  readonly wobble: { readonly rms_m: number; readonly knot_turn: number }
}

/** Between two layers: a bell along the axis all around, and a lasting step where the next metal differs. */
export interface Joint {
  readonly z_m: number
  readonly width_m: number
  readonly tilt_m: number
  readonly tilt_turn: number
  readonly size: number
  readonly uneven: number
  readonly direction_rad: number
  readonly step: number
  readonly step_direction_rad: number
}

export interface Flaw {
  readonly kind: 'notch' | 'crack'
  readonly depth_m: number
  readonly length_m: number
  readonly angle_turn: number
  readonly z0_m: number
  readonly z1_m: number
  /** this flaw's answer over what the law of the probe says; absent: 1 */
  readonly scatter?: number
  /**
   * The joint that a corner flaw touches, and the side on which its layer lies (1: deeper). It is then seen as at a face:
   * less and less as the coil leaves its layer. Absent: as at mid-bore, faces of the part apart.
   */
  readonly corner?: { readonly z_m: number; readonly width_m: number; readonly side: 1 | -1 }
}

/** Damage and tool marks. `size` is a peak-to-peak of the pair; of a patch twice the rms that one pick-up sees. */
export type Damage = Scratch | GalledPatch | Chatter | Pit | Fretting | Burr

export interface Scratch {
  readonly kind: 'scratch'
  readonly angle_turn: number
  readonly helix_turn_per_m: number
  readonly width_m: number
  readonly z0_m: number
  readonly z1_m: number
  readonly size: number
  readonly direction_rad: number
}

export interface GalledPatch {
  readonly kind: 'galled patch'
  readonly angle_turn: number
  readonly width_m: number
  readonly z0_m: number
  readonly z1_m: number
  readonly grain_m: number
  readonly size: number
  readonly direction_rad: number
}

export interface Chatter {
  readonly kind: 'chatter'
  readonly per_turn: number
  readonly phase_turn: number
  readonly z0_m: number
  readonly z1_m: number
  readonly size: number
  readonly direction_rad: number
}

/** Rounder than a flaw: `roundness` is the share that answers a quarter turn away, half a lobe aside. */
export interface Pit {
  readonly kind: 'pit'
  readonly angle_turn: number
  readonly width_m: number
  readonly z0_m: number
  readonly z1_m: number
  readonly size: number
  readonly roundness: number
  readonly direction_rad: number
}

/** A band of irregular wear, all around or (width_m above zero) about an angle; `size` is twice the rms of a pick-up. */
export interface Fretting {
  readonly kind: 'fretting'
  readonly angle_turn: number
  readonly width_m: number
  readonly z0_m: number
  readonly z1_m: number
  readonly grain_m: number
  readonly size: number
  readonly direction_rad: number
}

/** Metal that stands out at a face, in air as well: steep on one side, with a tail of `tail_m` on the other. */
export interface Burr {
  readonly kind: 'burr'
  readonly angle_turn: number
  readonly tail_m: number
  readonly z0_m: number
  readonly z1_m: number
  readonly size: number
  readonly direction_rad: number
}

/** What belongs to the part. `size` is the most that one pick-up sees; of a split line the peak-to-peak of the pair. */
export type Feature = SplitLine | Bushing | MetalPatch | Cladding | Sealant | NeighborMetal

/** Of a sleeve: narrow and straight, over its whole layer. */
export interface SplitLine {
  readonly kind: 'split line'
  readonly angle_turn: number
  readonly z0_m: number
  readonly z1_m: number
  readonly size: number
  readonly direction_rad: number
}

/** A step over its length, `uneven` around. */
export interface Bushing {
  readonly kind: 'bushing'
  readonly z0_m: number
  readonly z1_m: number
  readonly width_m: number
  readonly uneven: number
  readonly uneven_turn: number
  readonly size: number
  readonly direction_rad: number
}

/** Other conductivity or permeability in a place: slow along the angle (`width_m`) and along the axis. */
export interface MetalPatch {
  readonly kind: 'conductivity patch' | 'permeability patch'
  readonly angle_turn: number
  readonly width_m: number
  readonly z0_m: number
  readonly z1_m: number
  readonly size: number
  readonly direction_rad: number
}

/** A thin layer of other metal on a sheet, all around. */
export interface Cladding {
  readonly kind: 'cladding'
  readonly z0_m: number
  readonly z1_m: number
  readonly size: number
  readonly direction_rad: number
}

/** Sealant in a joint, about an angle. */
export interface Sealant {
  readonly kind: 'sealant'
  readonly z_m: number
  readonly thickness_m: number
  readonly angle_turn: number
  readonly width_m: number
  readonly size: number
  readonly direction_rad: number
}

/** The next layer's metal, seen on this side of the joint (1: deeper) and less with every `reach_m`. */
export interface NeighborMetal {
  readonly kind: 'neighbor metal'
  readonly z_m: number
  readonly side: 1 | -1
  readonly width_m: number
  readonly reach_m: number
  readonly size: number
  readonly direction_rad: number
}

/** `size` is a peak-to-peak; of a spike (1 to 3 samples, at places drawn from the seed) its height. */
export interface Disturbances {
  readonly particles: readonly Particle[]
  readonly spikes: { readonly count: number; readonly size: number }
  readonly bursts?: Bursts
  readonly hum: {
    readonly frequency_Hz: number
    readonly size: number
    readonly phase_turn: number
    readonly direction_rad: number
  }
}

/** Short trains of a frequency at places and in directions drawn from the seed, rising and falling as half a sine. */
export interface Bursts {
  readonly count: number
  readonly size: number
  readonly length_s: number
  readonly frequency_Hz: number
}

/** A loose particle moves on between revolutions: evenly by `drift`, and irregularly by a wander of this rms. */
export interface Particle {
  readonly angle_turn: number
  readonly drift_turn_per_turn: number
  readonly wander_rms_turn: number
  readonly z0_m: number
  readonly z1_m: number
  readonly size: number
  readonly direction_rad: number
}

/**
 * rms of x and of y each. `white` is new at every sample; `band` is limited to about bandwidth_Hz; `wall` is fixed on the
 * wall (it repeats, at any speed and rate). `inTime` false leaves out the first two: then the recording is an exact
 * function of turns, and of nothing else, spikes and hum apart.
 */
export interface Noise {
  readonly inTime: boolean
  readonly white: number
  readonly band: { readonly rms: number; readonly bandwidth_Hz: number }
  readonly wall: { readonly rms: number; readonly length_m: number }
}

/** One fault of the equipment, throughout; a gain change begins at its turn. Limits and levels are in recorded units. */
export type Fault =
  | { readonly kind: 'none' }
  | { readonly kind: 'gain change'; readonly change_dB: number; readonly from_turn: number }
  | { readonly kind: 'in air' }
  | { readonly kind: 'dead channel'; readonly channel: 'x' | 'y'; readonly level: number }
  | { readonly kind: 'half open' }
  | { readonly kind: 'clipped'; readonly limit: number }
  | {
      readonly kind: 'intermittent cable'
      /** the signal is away, the offset stays */
      readonly outages: readonly { readonly from_turn: number; readonly turns: number }[]
    }
  | { readonly kind: 'offset drift'; readonly x_per_s: number; readonly y_per_s: number }
