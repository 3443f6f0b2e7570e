/** `setup.json` of a trial job with holes, as its README defines it: what the inspector knows. */
export interface TrialSetup {
  readonly metal: string
  readonly frequency_khz: number
  readonly source_filter: string
  readonly rotation_rpm_nominal: number
  readonly rotation_sense: string
  readonly angle_datum: string
  readonly pitch_mm_per_rev: number
  readonly hole_diameter_mm: number
  readonly grip_mm: number
  readonly interfaces_mm: readonly number[]
  readonly equipment: {
    readonly instrument: string
    readonly probe: string
    readonly cable: string
    readonly arrangement: string
    readonly lobe_spacing_mm: number
    readonly drive: string
    readonly gain: string
  }
  readonly technique: {
    readonly confirmed_by: string
    readonly alarm: { readonly notch: string; readonly share: number }
    readonly target_flaw_mm: { readonly depth: number; readonly length: number }
    readonly max_pitch_mm: number
    readonly speed_tolerance: number
    readonly recheck_allowance: { readonly amplitude: number; readonly angle_deg: number }
    readonly min_signal_to_noise: number
    readonly corner_zones_by: string
    readonly may_class_by_phase_and_shape: readonly string[]
  }
  readonly reference_standard: {
    readonly metal: string
    readonly hole_diameter_mm: number
    readonly thickness_mm: number
    readonly interfaces_mm: readonly number[]
    readonly notches: readonly {
      readonly depth_mm: number
      readonly length_mm: number
      readonly angle_deg: number
      readonly z0_mm: number
      readonly z1_mm: number
      readonly place: string
    }[]
  }
  readonly order: readonly string[]
}
