import { generateTrack, type TrackFlaw, type TrackRecording, type TrackScene } from './weld.ts'
import type { TrackPaint } from './weld-coating.ts'
import {
  blockFile,
  demoShims_mm,
  demoTracks,
  parentFile,
  recheckFile,
  trackFile,
  weldDemoSheet
} from './weld-demo-sheet.ts'

/** Recordings of the weld job of the demonstration. Every number here is invented. */
export interface WeldDemoRecording {
  readonly file: string
  readonly scene: TrackScene
  readonly seed: number
}

const plate: TrackScene = {
  ...{ length_m: 0.12, rate_Hz: 1000, encoderStep_m: 5e-5, field_m: 2.4e-3, flaws: [], noise: 0.002 },
  speed: { mean_m_s: 0.035, swing: 0.15, swing_m: 0.06 },
  flaw: { half_depth_m: 1.1e-3, direction_rad: 1.8, turn_rad_per_m: -70 },
  material: { rms: 0.004, knot_m: 0.03, direction_rad: 2.4 },
  liftoff: { rms: 0.03, knot_m: 0.01, direction_rad: 3.1 },
  instrument: { gain: 0.8, rotation_rad: 0.7, x: 0.2, y: -0.1 }
}

const paint = (mean_mm: number, more: Partial<TrackPaint> = {}): TrackPaint => ({
  ...{ mean_mm, swing: { mm: 0.12, every_m: 0.4 }, runs: [], edges: [], fall_mm: 1.35 },
  absolute: { bare: 0.1, rise: 2.1, settle_mm: 1.9, noise: 0.004, permeability: [] },
  ...more
})

const even = (mean_mm: number): TrackPaint => paint(mean_mm, { swing: { mm: 0, every_m: 0.4 } })

const flawAt = (from_mm: number, length_mm: number, depth_mm: number): TrackFlaw => ({
  ...{ depth_m: depth_mm * 1e-3, from_m: from_mm * 1e-3, to_m: (from_mm + length_mm) * 1e-3 }
})

function slotsOf(): readonly TrackFlaw[] {
  return weldDemoSheet().reference_standard.slots.map(({ depth_mm, position_mm }) =>
    flawAt(position_mm - 0.1, 0.2, depth_mm)
  )
}

/** A block is ground flat: the probe stands off less, and more evenly, than on a weld. */
const block: Partial<TrackScene> = {
  flaws: slotsOf(),
  material: { ...plate.material, rms: 0.001 },
  liftoff: { ...plate.liftoff, rms: 0.012 }
}

/** What lies on each track, in the order of `demoTracks`. */
const tracks: readonly Partial<TrackScene>[] = [
  { paint: paint(0.9), flaws: [flawAt(138, 17, 1.2)] },
  {
    paint: paint(0.9),
    nuisances: [
      { kind: 'toe geometry', from_m: 0.06, to_m: 0.16, pitch_m: 0.03, size: 0.05, direction_rad: 2.9 },
      { kind: 'permeability change', at_m: 0.22, width_m: 0.03, size: 0.4, direction_rad: 2.9 }
    ]
  },
  { paint: paint(1.3, { runs: [{ at_m: 0.23, width_m: 0.05, mm: 1.2 }] }), flaws: [flawAt(74, 12, 0.8)] },
  { paint: paint(1.1), flaws: [flawAt(201, 26, 2.6), flawAt(95, 9, 0.6)] }
]

/** In the order in which they were taken. */
export function* weldDemoRecordings(seed: number): Generator<WeldDemoRecording> {
  let at = 0
  const next = (file: string, scene: Partial<TrackScene>): WeldDemoRecording => ({
    ...{ file, scene: { ...plate, ...scene }, seed: 1000 * seed + at++ }
  })
  for (const shim_mm of demoShims_mm) yield next(blockFile(shim_mm), { ...block, paint: even(shim_mm) })
  for (const [k, { id, length_mm }] of demoTracks.entries()) {
    const own = tracks[k] ?? {}
    const { mean_mm = 1 } = own.paint ?? {}
    yield next(parentFile(id), { length_m: 0.1, paint: paint(mean_mm, { swing: { mm: 0.1, every_m: 0.08 } }) })
    yield next(trackFile(id), { ...own, length_m: 1e-3 * length_mm })
  }
  yield next(recheckFile, { ...block, paint: even(0) })
}

/** A recording as rows of text: time, place, both channels and the absolute one. */
export function trackCsv({ rate_Hz, x, y, position, absolute }: TrackRecording): string {
  const head = ['time_s', 'position_mm', 'x_V', 'y_V', ...(absolute === undefined ? [] : ['a_V'])]
  const rows = Array.from(x, (value, i) =>
    [
      ...[(i / rate_Hz).toFixed(4), (1e3 * (position[i] ?? 0)).toFixed(2), value.toFixed(5), (y[i] ?? 0).toFixed(5)],
      ...(absolute === undefined ? [] : [(absolute[i] ?? 0).toFixed(5)])
    ].join(',')
  )
  return `${[head.join(','), ...rows].join('\n')}\n`
}

export const weldDemoRecording = ({ scene, seed }: WeldDemoRecording): TrackRecording => generateTrack(scene, seed)
