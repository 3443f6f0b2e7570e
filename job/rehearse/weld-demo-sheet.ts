import type { WeldSheet } from '../plan/index.ts'
import { demoSheet } from './demo-sheet.ts'

/** A weld job of the demonstration: a painted bracket, invented throughout, never to be signed off. */

export const demoShims_mm = [0, 0.5, 1, 1.5, 2] as const

/** Tracks: the upper and the lower toe of the fillet, on either side of the web. */
export const demoTracks = [
  { id: 'upper toe, left', length_mm: 320 },
  { id: 'lower toe, left', length_mm: 320 },
  { id: 'upper toe, right', length_mm: 320 },
  { id: 'lower toe, right', length_mm: 320 }
] as const

/** Name of a file of a track: its words, joined. */
export const trackFile = (id: string): string => `${id.replaceAll(/[, ]+/g, '-')}.csv`
export const parentFile = (id: string): string => `parent-${trackFile(id)}`
export const blockFile = (shim_mm: number): string => `block-shim-${shim_mm.toFixed(1)}.csv`
export const recheckFile = 'block-again.csv'

const METAL = 'carbon steel'

const slots = [
  { id: '0.5 mm', depth_mm: 0.5, position_mm: 30 },
  { id: '1.0 mm', depth_mm: 1, position_mm: 60 },
  { id: '2.0 mm', depth_mm: 2, position_mm: 90 }
]

/** The toes alone: what lies between and beside them the report says is not examined. */
const planOfDemo: NonNullable<WeldSheet['technique']['plan']> = {
  ...{ joint: 'fillet', length_mm: 320, thickness_mm: 12, cap_mm: 8, parent_mm: 50 },
  coating: { kind: 'paint', thickness_mm: 2 },
  flaw_directions: ['along'],
  field_mm: { along: 2.4, across: 5 },
  lanes: demoTracks.map(({ id }) => {
    const at = id.startsWith('upper') ? -4 : 4
    const over = at < 0 ? ('toe A' as const) : ('toe B' as const)
    return { id, over, run: 'along' as const, probe_deg: 0, from_mm: at, to_mm: at }
  })
}

const probeChecks = (by: string): NonNullable<WeldSheet['probe_checks']> =>
  [
    { on: '2026-01-12', index: 0.6, along: 5.6, tilt: 31, lift: 0.12 },
    { on: '2026-03-02', index: 0.8, along: 5.4, tilt: 30, lift: 0.14 }
  ].map(({ on, index, along, tilt, lift }) => ({
    ...{ probe: 'DW-1', on, by, index_point_mm: index, field_width_mm: { along, across: 5.8 } },
    ...{ tilt_deg: { one: tilt, other: tilt + 2 }, lift_off_share: lift, wear_cover: true }
  }))

const recordings = (): WeldSheet['recordings'] => [
  ...demoShims_mm.map((shim_mm) => ({ of: 'reference' as const, shim_mm, file: blockFile(shim_mm) })),
  ...demoTracks.flatMap(({ id }) => [
    { of: 'parent' as const, track: id, file: parentFile(id) },
    { of: 'track' as const, track: id, file: trackFile(id) }
  ]),
  { of: 'recheck' as const, file: recheckFile }
]

export function weldDemoSheet(): WeldSheet {
  const { people, examined_by, confirmed, job } = demoSheet()
  return {
    trueloop: 'job/1',
    job: {
      ...job,
      id: 'DEMO-2',
      component: 'Demonstration footbridge bracket 3 (invented), fillet weld under paint',
      task: 'Demonstration (invented): examine both toes of two fillet welds'
    },
    people,
    examined_by,
    ...(confirmed === undefined ? {} : { confirmed }),
    equipment: {
      ...{ instrument: 'simulated instrument', probe: 'simulated weld probe DW-1 and absolute probe DA-1' },
      ...{ cable: 'simulated cable', drive: 'unchanged for the whole job', gain: 'unchanged for the whole job' },
      ...{ filters: 'none', entered_by: examined_by }
    },
    technique: {
      application: 'weld',
      procedure: { id: 'Demonstration weld procedure (invented)', revision: '1' },
      ...{ metal: METAL, frequency_kHz: 100, field_width_mm: 2.4, max_speed_mm_s: 60 },
      alarm: { slot: '0.5 mm', share: 0.5 },
      min_signal_to_noise: 3,
      plan: planOfDemo,
      largest_coating_mm: 2,
      recheck_allowance: { amplitude: 0.1, angle_deg: 8 }
    },
    reference_standard: { id: 'Demonstration block 1 (invented)', metal: METAL, certificate: 'none: simulated', slots },
    probe_checks: probeChecks(examined_by),
    tracks: demoTracks.map((track) => ({ ...track })),
    recordings: recordings()
  }
}
