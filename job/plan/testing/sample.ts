/** A small sound sheet as plain data, for tests to spoil. Invented. */
// biome-ignore lint/suspicious/noExplicitAny: a sheet is plain data until it is read
export const sampleSheet = (): any => ({
  trueloop: 'job/1',
  job: { id: 'J1', component: 'spar', place: 'hangar', opened: '2026-03-14', demonstration: true },
  people: [
    { name: 'A', level: 'II' },
    { name: 'B', level: 'III' }
  ],
  examined_by: 'A',
  confirmed: { by: 'B', level: 'III', on: '2026-03-14' },
  equipment: { instrument: 'I', probe: 'P', entered_by: 'A' },
  technique: {
    application: 'fastener hole',
    procedure: { id: 'P', revision: 'A' },
    metal: 'aluminum',
    frequency_kHz: 500,
    arrangement: 'differential',
    lobe_spacing_mm: 1.3,
    rotation_rpm: 1500,
    speed_tolerance: 0.2,
    rotation_sense: 'clockwise from the entry face',
    angle_datum: 'index pulse',
    axial_position: 'entry and exit edges',
    pitch_mm: 0.25,
    max_pitch_mm: 0.45,
    band: 'from the footprint',
    alarm: { notch: 'N1', share: 0.5 },
    target_flaw_mm: { depth: 0.5, length: 0.76 },
    min_signal_to_noise: 3,
    recheck_allowance: { amplitude: 0.1, angle_deg: 5 },
    corner_zones_by: 'entry-corner notches',
    may_class_by_phase_and_shape: []
  },
  reference_standard: {
    id: 'R',
    metal: 'aluminum',
    hole_diameter_mm: 6.35,
    thickness_mm: 9,
    notches: [
      { id: 'N1', place: 'mid-bore', depth_mm: 0.5, length_mm: 1, angle_deg: 95, z0_mm: 4, z1_mm: 5 },
      { id: 'N2', place: 'entry corner', depth_mm: 0.5, length_mm: 0.5, angle_deg: 10, z0_mm: 0, z1_mm: 0.5 }
    ]
  },
  holes: [
    { id: 'H1', diameter_mm: 6.35, grip_mm: 9, interfaces_mm: [4.5] },
    { id: 'H2', diameter_mm: 6.35, grip_mm: 9 }
  ],
  recordings: [
    { of: 'reference', file: 'r.wav', taken: '2026-03-14T10:00:00+01:00' },
    { of: 'hole', hole: 'H1', file: 'h1.wav', taken: '2026-03-14T10:10:00+01:00' },
    { of: 'hole', hole: 'H2', file: 'h2.wav', taken: '2026-03-14T10:20:00+01:00' }
  ]
})
