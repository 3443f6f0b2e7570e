import type { HoleTechnique } from '../../plan/index.ts'
import { rounded } from './chance.ts'
import { alarmNotch, type DrawnNotch, type Geometry } from './geometry.ts'

/** The paper of a drawn set-up, as a practitioner would write it for this probe and hole. */
export interface TechniqueForm {
  readonly id: string
  readonly metal: string
  readonly frequency_kHz: readonly number[]
  readonly geometry: Geometry
  readonly notches: readonly DrawnNotch[]
}

export function techniqueOf({ id, metal, frequency_kHz, geometry, notches }: TechniqueForm): HoleTechnique {
  const alarm = alarmNotch(notches)
  return {
    application: 'fastener hole',
    procedure: { id: `simulated procedure of ${id}`, revision: '1' },
    metal,
    frequency_kHz: frequency_kHz.at(-1)!,
    arrangement: 'differential',
    lobe_spacing_mm: geometry.lobe_spacing_mm,
    rotation_rpm: geometry.rpm,
    speed_tolerance: 0.15,
    rotation_sense: 'clockwise, looked at from the entry face',
    angle_datum: 'index pulse',
    axial_position: 'entry and exit edges',
    pitch_mm: geometry.pitch_mm,
    max_pitch_mm: rounded(Math.max(0.45, 1.3 * geometry.pitch_mm), 0.01),
    band: 'from the footprint',
    alarm: { notch: alarm.id, share: 0.5 },
    target_flaw_mm: { depth: alarm.depth_mm, length: rounded(0.8 * alarm.length_mm, 0.01) },
    min_signal_to_noise: 3,
    recheck_allowance: { amplitude: 0.1, angle_deg: 8 },
    corner_zones_by: 'entry-corner notches, faying surfaces included',
    may_class_by_phase_and_shape: [...causes]
  }
}

/** Every cause that may be told by phase and shape, a score and galling by both of their names. */
const causes = [
  ...['scratch', 'score', 'galled patch', 'galling', 'chatter', 'burr', 'pit', 'fretting'],
  ...['edge', 'interface', 'ovality', 'wobble', 'probe not square', 'conductivity change', 'permeability change'],
  ...['cladding', 'sealant', 'split line of a sleeve', 'bushing', 'neighbor metal'],
  ...['electrical noise', 'spike', 'loose particle']
] as const
