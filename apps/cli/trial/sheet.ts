import type { TrialSetup } from './setup.ts'

/**
 * The job sheet of a trial job: technique and equipment from `setup.json` unchanged, confirmed by the person named
 * there. The trial names no level and no day; the sheet needs both, so they are stated here, for scoring only.
 */
export interface TrialJob {
  readonly name: string
  readonly setup: TrialSetup
  /** path of the recording of that name */
  readonly fileOf: (name: string) => string
}

const day = '2026-01-01'

export function trialSheet({ name, setup, fileOf }: TrialJob): Record<string, unknown> {
  const person = setup.technique.confirmed_by
  return {
    trueloop: 'job/1',
    job: { id: `TRIAL ${name}`, component: `trial recordings ${name} (simulated)`, opened: day, demonstration: true },
    people: [{ name: person, level: 'III' }],
    examined_by: person,
    confirmed: { by: person, level: 'III', on: day },
    equipment: equipmentOf(setup, person),
    technique: techniqueOf(name, setup),
    reference_standard: standardOf(name, setup),
    holes: setup.order.filter(isHole).map((id) => holeOf(id, setup)),
    recordings: setup.order.map((one) => recordingOf(one, fileOf(one)))
  }
}

const isHole = (name: string): boolean => name.startsWith('hole-')

const equipmentOf = ({ equipment, source_filter }: TrialSetup, person: string) => ({
  instrument: equipment.instrument,
  probe: equipment.probe,
  cable: equipment.cable,
  drive: equipment.drive,
  gain: equipment.gain,
  filters: source_filter,
  entered_by: person
})

function techniqueOf(name: string, { technique, ...setup }: TrialSetup) {
  const { amplitude, angle_deg } = technique.recheck_allowance
  return {
    application: 'fastener hole',
    procedure: { id: `trial ${name}`, revision: 'as delivered' },
    metal: setup.metal,
    frequency_kHz: setup.frequency_khz,
    arrangement: setup.equipment.arrangement,
    lobe_spacing_mm: setup.equipment.lobe_spacing_mm,
    rotation_rpm: setup.rotation_rpm_nominal,
    speed_tolerance: technique.speed_tolerance,
    rotation_sense: setup.rotation_sense,
    angle_datum: setup.angle_datum,
    axial_position: 'entry and exit edges',
    pitch_mm: setup.pitch_mm_per_rev,
    max_pitch_mm: technique.max_pitch_mm,
    band: 'from the footprint',
    alarm: technique.alarm,
    target_flaw_mm: technique.target_flaw_mm,
    min_signal_to_noise: technique.min_signal_to_noise,
    recheck_allowance: { amplitude, angle_deg },
    corner_zones_by: technique.corner_zones_by,
    may_class_by_phase_and_shape: technique.may_class_by_phase_and_shape
  }
}

const standardOf = (name: string, { reference_standard: standard }: TrialSetup) => ({
  id: `trial standard ${name}`,
  metal: standard.metal,
  hole_diameter_mm: standard.hole_diameter_mm,
  thickness_mm: standard.thickness_mm,
  interfaces_mm: standard.interfaces_mm,
  notches: standard.notches.map(({ place, depth_mm, length_mm, angle_deg, z0_mm, z1_mm }) => ({
    ...{ id: `${place} ${depth_mm} mm`, place, depth_mm, length_mm, angle_deg, z0_mm, z1_mm }
  }))
})

const holeOf = (id: string, { hole_diameter_mm: diameter_mm, grip_mm, interfaces_mm, metal }: TrialSetup) => ({
  ...{ id, diameter_mm, grip_mm, interfaces_mm },
  layers: [metal, ...interfaces_mm.map(() => metal)]
})

/** The README states the channels of the WAV files; the columns of the CSV files are named in them. */
function recordingOf(name: string, file: string) {
  const columns = file.endsWith('.wav') ? { columns: { x: 0, y: 1, index: 2 } } : {}
  if (isHole(name)) return { of: 'hole', hole: name, file, ...columns }
  return { of: name.startsWith('recheck') ? 'recheck' : 'reference', file, ...columns }
}
