import type { Refusal } from '@trueloop/ground/refusal'
import type { Examination, Indication, ZoneResult } from '../../examine/index.ts'
import type { HoleStandard, HoleTechnique } from '../../plan/index.ts'
import type { Standardization } from '../../standardize/index.ts'
import { canonical } from '../canonical.ts'
import type { Entry, EntryOf } from '../kinds.ts'
import { findings, outcomeOf } from '../outcome.ts'
import { replay } from '../replay.ts'
import type { ReportInput } from '../report-input.ts'
import { chainOfEntries, sha256 } from './entries.ts'
import { heldRows, inventedRows } from './held.ts'
import { lobes, snippet, wallPicture } from './waves.ts'

/**
 * An invented job with one of everything a report has to say. No part, no person and no recording behind it exists; the
 * numbers were chosen for the eye.
 */

const technique: HoleTechnique = {
  application: 'fastener hole',
  procedure: { id: 'INV-ET-12', revision: 'C' },
  metal: '2024-T3',
  frequency_kHz: 500,
  arrangement: 'differential',
  lobe_spacing_mm: 1.4,
  rotation_rpm: 1500,
  speed_tolerance: 0.1,
  rotation_sense: 'clockwise, seen from the entry face',
  angle_datum: 'index pulse only',
  axial_position: 'entry and exit edges',
  pitch_mm: 0.25,
  max_pitch_mm: 0.5,
  band: { low: 4, high: 40 },
  alarm: { notch: 'mid-bore 0.5 mm', share: 0.5 },
  target_flaw_mm: { depth: 0.5, length: 1 },
  min_signal_to_noise: 3,
  recheck_allowance: { amplitude: 0.1, angle_deg: 5 },
  corner_zones_by: 'corner notches of the standard',
  may_class_by_phase_and_shape: ['scratch', 'wobble']
}

const standard: HoleStandard = {
  id: 'INV-STD-3',
  metal: '2024-T3',
  hole_diameter_mm: 6.35,
  thickness_mm: 9,
  interfaces_mm: [],
  angle_datum: 'index pulse',
  notches: [
    { id: 'mid-bore 0.5 mm', place: 'mid-bore', depth_mm: 0.5, length_mm: 2, angle_deg: 90, z0_mm: 3.5, z1_mm: 5.5 },
    { id: 'corner 0.5 mm', place: 'entry corner', depth_mm: 0.5, length_mm: 0.5, angle_deg: 210, z0_mm: 0, z1_mm: 0.5 }
  ]
}

const equipment = {
  ...{ instrument: 'INV-INS 1', probe: 'INV-P 635', cable: '2 m, INV-C 4', drive: '1 V', gain: '34 dB' },
  ...{ filters: 'none', entered_by: 'A. Invented' }
}

const standardization = (method: number): Standardization => ({
  kind: 'standardization',
  version: 1,
  method,
  application: 'fastener hole',
  standard: standard.id,
  equipment,
  frequency_kHz: 500,
  metal: '2024-T3',
  diameter_mm: 6.35,
  speed_window: { least: 22.5, most: 27.5, unit: '1/s' },
  turn: { x: 0.8, y: -0.3 },
  rotation: {
    angle_rad: -0.358,
    uncertainty_rad: 0.021,
    axisRatio: 4.6,
    points: 8104,
    basis: 'motion of the probe over the quiet wall'
  },
  airStep: { x: -3.1, y: 0.2, spread: 0.2 },
  named: 'mid-bore 0.5 mm',
  notches: standard.notches.map((notch, at) => ({
    ...{ id: notch.id, place: notch.place, depth_mm: notch.depth_mm, length_mm: notch.length_mm },
    ...{ amplitude: at === 0 ? 1 : 0.71, matched: at === 0 ? 1 : 0.69, phase_rad: at === 0 ? 1.13 : 1.21 },
    ...{ fitted: { x: 0.43, y: 0.9 }, fittedNoise: { x: 0.01, y: 0.01 } },
    ...{ angle_rad: 1.57, z_m: 0.0045, angleOff_rad: 0.012, zOff_m: 0.00004 }
  })),
  form: { half: 36, ...lobes(1, 1.13) },
  noise: { xx: 0.001, xy: 0, yy: 0.0004, matched: 0.042, points: 9000 },
  wallMotion: 0.03,
  band: { low: 4, high: 40, unit: 'cycles per revolution' },
  limits: [
    { limit: 'signal-to-noise of the alarm notch', needed: 'at least 3', found: '23.8', met: true },
    { limit: 'uncertainty of the rotation', needed: 'at most 3°', found: '1.2°', met: true }
  ]
})

const zone = (name: string, z0_mm: number, z1_mm: number, over: Partial<ZoneResult> = {}): ZoneResult => ({
  ...{
    zone: name,
    z0_m: z0_mm / 1000,
    z1_m: z1_mm / 1000,
    state: 'examined',
    covered: 1,
    why: [],
    signalToNoise: 11.2
  },
  ...over
})

const zones = (over: Partial<ZoneResult> = {}): readonly ZoneResult[] => [
  zone('layer 1 entry corner', 0, 1.2),
  zone('layer 1 mid-bore', 1.2, 3.3),
  zone('layer 1 exit corner', 3.3, 4.5),
  zone('layer 2 entry corner', 4.5, 5.7),
  zone('layer 2 mid-bore', 5.7, 7.8),
  zone('layer 2 exit corner', 7.8, 9, over)
]

interface Shape {
  readonly amplitude: number
  readonly angle_deg: number
  readonly z_mm: number
  readonly phase: number
  readonly of: Indication['class']
}

function indication(
  id: string,
  { amplitude, angle_deg, z_mm, phase, of }: Shape,
  withheld: readonly string[] = []
): Indication {
  const ruler = 12 + z_mm / 0.25 + angle_deg / 360
  const name = z_mm < 4.5 ? 'layer 1 exit corner' : 'layer 2 mid-bore'
  return {
    ...{ id, zone: name, layer: z_mm < 4.5 ? 1 : 2, place: z_mm < 4.5 ? 'corner' : 'mid-bore' },
    ...{ amplitude, matched: 0.96 * amplitude, phase_rad: phase, lobeOrder: 1, angle_rad: (angle_deg * Math.PI) / 180 },
    ...{ z_m: z_mm / 1000, z0_m: z_mm / 1000 - 0.0006, z1_m: z_mm / 1000 + 0.0006, ruler, revolutions: 5 },
    ...{ signalToNoise: amplitude / 0.05, crossedAlarm: amplitude > 0.5, class: of },
    evidence: [
      {
        what: 'angle',
        sentence: `Its angle is ${Math.round(phase * 57.3)}° from lift-off; the notch lies at 65°.`,
        speaks: of === 'relevant' ? 'for' : 'against'
      },
      { what: 'lobes', sentence: 'Its lobes come in the order of the notch.', speaks: 'for' },
      {
        what: 'repeat',
        sentence:
          'It answers on 5 revolutions at half its peak or more; about 9 pass over the flaw sought and the footprint together.',
        speaks: 'neither'
      }
    ],
    size:
      withheld.length > 0
        ? { depth: 'withheld', extent: 'withheld', withheld }
        : {
            ...{ depth: 'answers between notches mid-bore 0.25 mm and mid-bore 0.5 mm', lower_mm: 0.25, upper_mm: 0.5 },
            ...{ extent: '1.20 mm between the −6 dB points, footprint included', extent_mm: 1.2, withheld }
          },
    proposal:
      withheld.length > 0
        ? `no proposal: ${withheld[0]}`
        : of === 'relevant'
          ? 'relevant: a person decides on rejection, clean-up ream or reference to engineering'
          : 'undecided: clean, enter again and look a second time before deciding',
    snippet: snippet(amplitude, phase, ruler, 5)
  }
}

interface Looked {
  readonly indications?: readonly Indication[]
  readonly last?: Partial<ZoneResult>
  readonly dropped?: Examination['dropped']
}

const examination = (
  hole: string,
  from: string,
  { indications = [], last = {}, dropped = [] }: Looked
): Examination => ({
  kind: 'examination',
  version: 1,
  method: 1,
  application: 'fastener hole',
  subject: hole,
  amplitudeUnit: 'notch',
  recording: sha256(`hole ${hole}`),
  standardization: from,
  position: {
    ...{
      axial: 'entry and exit edges with the known grip of 9 mm',
      axialUncertainty_m: 0.00018,
      angle: 'relative angle'
    },
    ...{ entry: 12, exit: 48, pitch_m: 0.00025 }
  },
  zones: zones(last),
  coverage: {
    ...{ samples: 61_440, revolutions: 60, revolutionsInMetal: 36 },
    contact: [
      {
        check: 'entry step against the reference scan',
        found: '0.97 in size, 2° in angle',
        needed: '0.7 to 1.4, within 15°',
        met: true
      },
      { check: 'wall noise while in the metal', found: '0.031', needed: 'at least 0.010', met: true }
    ],
    speed: { least: 24.4, mean: 25, most: 25.7, unit: '1/s' }
  },
  dropped,
  noise: { matched: 0.05, threshold: 0.24, alarm: 0.5, points: 18_432 },
  indications,
  refusals: [],
  notes: [],
  picture: wallPicture(indications)
})

let minute = 0
const head = (id: string) => ({
  ...{ id, by: { kind: 'program', name: 'invented' } as const },
  at: {
    time: `2026-03-14T0${8 + Math.floor(minute / 60)}:${String(minute++ % 60).padStart(2, '0')}:00.000Z`,
    known: 'clock of this computer' as const
  }
})

type Of = EntryOf<'recording-kept'>['of']
const keep = (name: string, of: Of, extra: Partial<EntryOf<'recording-kept'>> = {}): Entry => ({
  ...{
    kind: 'recording-kept',
    version: 1,
    sha256: sha256(name),
    bytes: 983_040,
    file: `${name.replace(' ', '-')}.csv`,
    of
  },
  ...head(`keep ${name}`),
  taken: { time: '2026-03-14T09:30:00', known: 'job sheet' },
  ...extra
})
const standardize = (name: string, document: string): Entry => ({
  ...{ kind: 'standardized', version: 1, standardization: document, recording: sha256(name), method: 1 },
  ...head(`standardize ${name}`)
})
const recheck = (name: string, document: string, passed: boolean, voids: readonly string[] = []): Entry => ({
  ...{ kind: 'recheck', version: 1, recording: sha256(name), standardization: document, passed, voids: [...voids] },
  ...head(`recheck ${name}`),
  allowed: technique.recheck_allowance,
  drifts: standard.notches.map(({ id }) => ({
    ...{ notch: id, amplitude: passed ? 0.021 : -0.284, angle_deg: 1.4, met: passed }
  }))
})
const examined = (one: Examination): Entry => ({
  ...{ kind: 'examined', version: 1, subject: { of: 'hole', name: one.subject } },
  ...head(`examine ${one.subject}`),
  ...outcomeOf(one, sha256)
})
const hole = (name: string): Of => ({ of: 'hole', name })

const refusal: Refusal = {
  refused: true,
  code: 'scan/clipped',
  found: '312 samples at the largest value of the recorder',
  needed: 'a recording that nowhere reaches it',
  remedy: 'lower the gain, standardize again and scan the hole again'
}

/** All that the report of the invented job is made of. Made anew at each call; equal at each call. */
export function inventedReport(): ReportInput {
  minute = 0
  const [first, second] = [standardization(1), { ...standardization(1), wallMotion: 0.028 }]
  const [one, two] = [sha256(canonical(first)), sha256(canonical(second))]
  const looked = {
    clean: examination('W-1', one, {}),
    relevant: examination('W-2', one, {
      indications: [indication('W-2/1', { amplitude: 0.78, angle_deg: 348, z_mm: 4.1, phase: 1.19, of: 'relevant' })]
    }),
    part: examination('W-3', one, {
      last: { state: 'not examined', covered: 0.62, why: ['pitch 0.71 mm where at most 0.5 mm is covered'] },
      dropped: [{ from: 45.2, to: 46.9, unit: 'revolution', samples: 870, reason: 'gap in the recording' }]
    }),
    undecided: examination('W-4', one, {
      indications: [
        indication('W-4/1', { amplitude: 0.36, angle_deg: 120, z_mm: 6.6, phase: 0.6, of: 'undecided' }, [
          'the cable is unknown'
        ])
      ]
    }),
    voided: examination('W-5', one, {
      indications: [indication('W-5/1', { amplitude: 0.62, angle_deg: 200, z_mm: 6.2, phase: 1.1, of: 'relevant' })]
    }),
    provisional: examination('W-7', two, {})
  }
  const entries: readonly Entry[] = [
    openedJob(),
    {
      ...{
        kind: 'document-stored',
        version: 1,
        document: sha256(canonical(technique)),
        what: 'technique',
        name: 'INV-ET-12 C'
      },
      ...head('store technique')
    },
    {
      ...{
        kind: 'document-stored',
        version: 1,
        document: sha256(canonical(standard)),
        what: 'reference standard',
        name: standard.id
      },
      ...head('store standard')
    },
    {
      ...{
        kind: 'technique-confirmed',
        version: 1,
        technique: sha256(canonical(technique)),
        name: 'B. Invented',
        level: 'III'
      },
      ...{ on: '2026-03-13', signed: false },
      ...head('confirm')
    },
    held(),
    ...[keep('reference 1', { of: 'reference' }), standardize('reference 1', one)],
    ...[
      keep('hole W-1', hole('W-1')),
      examined(looked.clean),
      keep('hole W-2', hole('W-2')),
      examined(looked.relevant)
    ],
    ...[keep('hole W-3', hole('W-3')), examined(looked.part)],
    ...[keep('hole W-4', hole('W-4'), { equipment: { cable: 'unknown' } }), examined(looked.undecided)],
    ...[keep('recheck 1', { of: 'recheck' }), recheck('recheck 1', one, true)],
    ...[keep('hole W-5', hole('W-5')), examined(looked.voided)],
    ...[keep('recheck 2', { of: 'recheck' }), recheck('recheck 2', one, false, [sha256('hole W-5')])],
    ...[keep('reference 2', { of: 'reference' }), standardize('reference 2', two)],
    ...[keep('hole W-6', hole('W-6')), keep('hole W-7', hole('W-7')), examined(looked.provisional)],
    {
      ...{ kind: 'corrected', version: 1, corrects: 'keep hole W-1', reason: 'the time was read wrongly' },
      ...head('correct W-1'),
      becomes: { ...keep('hole W-1', hole('W-1')), taken: { time: '2026-03-14T09:20:00', known: 'job sheet' } } as never
    },
    examinedAgain(looked.clean)
  ]
  return {
    state: replay(chainOfEntries('INV-7', entries)),
    technique: { hash: sha256(canonical(technique)), document: technique },
    registered: inventedRows(standard).map((document) => ({ hash: sha256(canonical(document)), document })),
    standards: [{ hash: sha256(canonical(standard)), document: standard }],
    standardizations: [
      { hash: one, document: first },
      { hash: two, document: second }
    ],
    examinations: Object.values(looked).map((document) => ({ hash: sha256(canonical(findings(document))), document })),
    refused: [{ subject: 'W-6', file: 'hole-W-6.csv', refusal }],
    program: { name: 'Trueloop', version: '0.0.0-invented' },
    printed: { time: '2026-03-14T12:00:00.000Z', known: 'clock of this computer' }
  }
}

const held = (): Entry => ({
  ...{ kind: 'held-in-register', version: 1, day: '2026-03-14' },
  ...head('held'),
  shop: { first: sha256('shop 0'), count: 5, head: sha256('shop 4') },
  rows: heldRows(inventedRows(standard), '2026-03-14')
})

const examinedAgain = (one: Examination): Entry => ({ ...examined(one), id: `examine ${one.subject} again` })

const openedJob = (): Entry => ({
  ...{ kind: 'job-opened', version: 1, application: 'fastener hole', examinedBy: 'A. Invented', equipment },
  ...head('open'),
  job: {
    id: 'INV-7',
    component: 'Wing panel, serial 0042 (invented)',
    task: 'INV-WO 118',
    opened: '2026-03-14',
    demonstration: true
  },
  people: [
    { name: 'A. Invented', level: 'II', certificate: 'INV-2201' },
    { name: 'B. Invented', level: 'III' }
  ],
  places: ['W-1', 'W-2', 'W-3', 'W-4', 'W-5', 'W-6', 'W-7', 'W-8'].map((name) => ({
    ...{
      of: 'hole' as const,
      name,
      diameter_mm: 6.35,
      grip_mm: 9,
      interfaces_mm: [4.5],
      layers: ['2024-T3', '7075-T6']
    }
  }))
})
