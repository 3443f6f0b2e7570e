import type { HoleSheet } from '../plan/index.ts'
import { demoHoles, demoNotches } from './demo-holes.ts'
import { DIAMETER_mm, GRIP_mm, JOINTS_mm, LOBE_SPACING_mm, PITCH_mm, RATE_Hz, RPM, THICKNESS_mm } from './demo-scene.ts'

const METAL = 'aluminum 2024-T3'

/** A recording of the demonstration in the order in which it was taken. */
export interface DemoFile {
  readonly file: string
  readonly of: 'reference' | 'recheck' | 'hole'
  readonly hole?: string
}

const holeFile = ({ id }: { readonly id: string }): DemoFile => ({ file: `hole-${id}.wav`, of: 'hole', hole: id })

export const demoFiles: readonly DemoFile[] = [
  { file: 'reference-start.wav', of: 'reference' },
  ...demoHoles.slice(0, 5).map(holeFile),
  { file: 'recheck-1.wav', of: 'recheck' },
  ...demoHoles.slice(5).map(holeFile),
  { file: 'recheck-2.wav', of: 'recheck' }
]

const taken = (k: number): string => `2026-03-02T09:${10 + 3 * k}:00+00:00`

const recordingOf = ({ file, of, hole }: DemoFile, k: number): HoleSheet['recordings'][number] =>
  of === 'hole' ? { of, hole: hole ?? '', file, taken: taken(k) } : { of, file, taken: taken(k) }

/** The job sheet of the demonstration: invented throughout, marked as a demonstration, never to be signed off. */
export const demoSheet = (): HoleSheet => ({
  trueloop: 'job/1',
  job: {
    id: 'DEMO-1',
    component: 'Demonstration panel 1 (invented), lap joint of three sheets',
    task: 'Demonstration (invented): examine ten fastener holes',
    place: 'nowhere: simulated recordings',
    opened: '2026-03-02',
    demonstration: true
  },
  people: [
    { name: 'Demonstration Inspector (invented)', level: 'II' },
    { name: 'Demonstration Level III (invented)', level: 'III' }
  ],
  examined_by: 'Demonstration Inspector (invented)',
  confirmed: { by: 'Demonstration Level III (invented)', level: 'III', on: '2026-03-02' },
  equipment: {
    instrument: 'simulated instrument',
    probe: 'simulated probe DP-1',
    cable: 'simulated cable',
    drive: 'unchanged for the whole job',
    gain: 'unchanged for the whole job',
    filters: 'none',
    entered_by: 'Demonstration Inspector (invented)'
  },
  columns: { x: 0, y: 1, index: 2, rate_Hz: RATE_Hz },
  technique: techniqueOfDemo,
  reference_standard: {
    id: 'Demonstration standard 1 (invented)',
    metal: METAL,
    certificate: 'none: simulated',
    hole_diameter_mm: DIAMETER_mm,
    thickness_mm: THICKNESS_mm,
    interfaces_mm: [],
    angle_datum: 'index pulse',
    notches: demoNotches.map((notch) => ({ ...notch }))
  },
  holes: demoHoles.map(({ id }) => ({
    id,
    diameter_mm: DIAMETER_mm,
    grip_mm: GRIP_mm,
    interfaces_mm: [...JOINTS_mm],
    layers: [METAL, METAL, METAL]
  })),
  recordings: demoFiles.map(recordingOf)
})

const techniqueOfDemo: HoleSheet['technique'] = {
  application: 'fastener hole',
  procedure: { id: 'Demonstration procedure (invented)', revision: '1' },
  metal: METAL,
  frequency_kHz: 400,
  arrangement: 'differential',
  lobe_spacing_mm: LOBE_SPACING_mm,
  rotation_rpm: RPM,
  speed_tolerance: 0.15,
  rotation_sense: 'clockwise, looked at from the entry face',
  angle_datum: 'index pulse',
  axial_position: 'entry and exit edges',
  pitch_mm: PITCH_mm,
  max_pitch_mm: 0.38,
  band: 'from the footprint',
  alarm: { notch: 'mid-bore 0.6 mm', share: 0.5 },
  target_flaw_mm: { depth: 0.6, length: 0.9 },
  min_signal_to_noise: 3,
  recheck_allowance: { amplitude: 0.1, angle_deg: 8 },
  corner_zones_by: 'entry-corner notches, faying surfaces included',
  may_class_by_phase_and_shape: [
    'scratch',
    'chatter',
    'loose particle',
    'galled patch',
    'edge',
    'interface',
    'ovality',
    'wobble',
    'electrical noise'
  ]
}
