import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Examination } from '@trueloop/job/examine'
import { type Sheet, sheetOf } from '@trueloop/job/plan'
import { replay } from '@trueloop/job/record'
import { generateTrack, type TrackFlaw, type TrackScene } from '@trueloop/job/rehearse'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { type Archive, openArchive } from '../archive/index.ts'
import { checkJob, runChain } from './index.ts'
import { got } from './testing/shop.ts'

let folder = ''
let archive: Archive

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'trueloop-chain-'))
  archive = got(await openArchive(join(folder, 'archive')))
})

afterEach(async () => {
  await archive.close()
  rmSync(folder, { recursive: true })
})

const sheetFrom = (value: unknown): Sheet => {
  const reading = sheetOf(value)
  if ('refusals' in reading) throw new Error(JSON.stringify(reading.refusals))
  return reading.sheet
}

const common = (id: string) => ({
  trueloop: 'job/1',
  job: { id, component: 'invented', opened: '2026-03-14', demonstration: true },
  people: [{ name: 'B', level: 'III' }],
  examined_by: 'B',
  confirmed: { by: 'B', level: 'III', on: '2026-03-14' },
  equipment: {
    ...{ instrument: 'I', probe: 'W', cable: 'C', drive: 'D', gain: 'unchanged', filters: 'none', entered_by: 'B' }
  }
})

const examinationOf = async (job: string): Promise<Examination> => {
  const { places } = replay(got(await archive.entries(job)))
  const document = got(await archive.document(places[0]?.examinations.at(-1)?.examination ?? ''))
  return JSON.parse(document.text) as Examination
}

describe('a weld', () => {
  const track = (length_m: number, flaws: readonly TrackFlaw[]): TrackScene => ({
    ...{ length_m, rate_Hz: 1000, encoderStep_m: 1e-5, field_m: 2.4e-3, flaws, noise: 0.002 },
    speed: { mean_m_s: 0.03, swing: 0.05, swing_m: 0.05 },
    flaw: { half_depth_m: 1e-3, direction_rad: 1.2, turn_rad_per_m: 0 },
    material: { rms: 0.003, knot_m: 0.02, direction_rad: 2.9 },
    liftoff: { rms: 0.03, knot_m: 0.015, direction_rad: 3.0 },
    instrument: { gain: 2, rotation_rad: 0.4, x: 0.3, y: -0.6 }
  })

  const slot = (at: number, depth_m: number): TrackFlaw => ({ depth_m, from_m: at - 1e-4, to_m: at + 1e-4 })
  const block = track(0.12, [slot(0.03, 0.5e-3), slot(0.06, 1e-3), slot(0.09, 2e-3)])

  function write(file: string, scene: TrackScene, seed: number): void {
    const { x, y, position } = generateTrack(scene, seed)
    const rows = Array.from(x, (v, i) => `${i / 1000},${(1000 * (position[i] ?? 0)).toFixed(2)},${v},${y[i]}`)
    writeFileSync(join(folder, file), ['time_s,position_mm,x_V,y_V', ...rows, ''].join('\n'))
  }

  const weld = (technique = {}) => ({
    ...common('WELD-1'),
    technique: {
      ...{ application: 'weld', procedure: { id: 'P', revision: 'A' }, metal: 'steel', frequency_kHz: 100 },
      ...{ field_width_mm: 2.4, max_speed_mm_s: 60, alarm: { slot: '0.5 mm', share: 0.5 }, min_signal_to_noise: 3 },
      ...technique
    },
    reference_standard: {
      ...{ id: 'B', metal: 'steel' },
      slots: [
        { id: '0.5 mm', depth_mm: 0.5, position_mm: 30 },
        { id: '1.0 mm', depth_mm: 1, position_mm: 60 },
        { id: '2.0 mm', depth_mm: 2, position_mm: 90 }
      ]
    },
    tracks: [{ id: 'T1', length_mm: 300, coating_mm: 0 }],
    recordings: [
      { of: 'reference', file: 'block.csv' },
      { of: 'track', track: 'T1', file: 'track.csv' },
      { of: 'recheck', file: 'again.csv' }
    ]
  })

  beforeEach(() => {
    write('block.csv', block, 1)
    write('again.csv', block, 2)
    write('track.csv', track(0.3, [{ depth_m: 1.5e-3, from_m: 0.14, to_m: 0.152 }]), 3)
  })

  it('goes the same way: one track, one finding where the flaw is', async () => {
    const sheet = sheetFrom(weld({ recheck_allowance: { amplitude: 0.2, angle_deg: 10 } }))
    const { outcomes, refusals } = await runChain({ sheet, folder, archive })
    expect(refusals).toEqual([])
    expect(outcomes.map(({ did }) => did)).toEqual(['standardized', 'examined', 'recheck'])
    const { indications } = await examinationOf('WELD-1')
    const relevant = indications.filter((one) => one.crossedAlarm)
    expect(relevant.length).toBeGreaterThan(0)
    for (const { z_m } of relevant) expect(Math.abs(Number(z_m) - 0.146)).toBeLessThan(0.012)
    const verification = got(await checkJob(archive, 'WELD-1', { again: true }))
    expect(verification.replayed).toMatchObject({ holds: true, count: 1 })
  })

  it('has no default for the drift that a recheck may show', async () => {
    const { refusals } = await runChain({ sheet: sheetFrom(weld()), folder, archive })
    expect(refusals).toMatchObject([{ code: 'chain/no-allowance', where: { path: 'recordings[2]' } }])
  })
})

describe('a loop', () => {
  it('goes the same way: no standardization, no position, amplitude as recorded', async () => {
    const rows = Array.from({ length: 4000 }, (_, i) => {
      const bell = Math.exp(-(((i - 2000) / 60) ** 2))
      const noise = Math.sin(i * 12.9898) * 43758.5453
      return `${0.5 * bell + 1e-4 * (noise - Math.floor(noise))},${0.8 * bell + 1e-4 * (noise - Math.round(noise))}`
    })
    writeFileSync(join(folder, 'slot.csv'), ['x,y', ...rows, ''].join('\n'))
    const sheet = sheetFrom({
      ...common('LOOP-1'),
      technique: { application: 'loop', procedure: { id: 'P', revision: 'A' }, min_signal_to_noise: 3 },
      columns: { x: 'x', y: 'y', rate_Hz: 1000 },
      recordings: [{ of: 'loop', place: 'slot 1', file: 'slot.csv' }]
    })
    const { outcomes, refusals } = await runChain({ sheet, folder, archive })
    expect(refusals).toEqual([])
    expect(outcomes.map(({ did }) => did)).toEqual(['examined'])
    const { indications, standardization, amplitudeUnit } = await examinationOf('LOOP-1')
    expect({ standardization, amplitudeUnit }).toEqual({ standardization: 'none', amplitudeUnit: 'recorded' })
    expect(indications).toHaveLength(1)
    // farthest pair of points of (0.5, 0.8) times a bell from 0 to 1: the bell's own height
    expect(indications[0]?.amplitude).toBeCloseTo(Math.sqrt(0.5 ** 2 + 0.8 ** 2), 2)
    const verification = got(await checkJob(archive, 'LOOP-1', { again: true }))
    expect(verification.replayed).toMatchObject({ holds: true, count: 1 })
  })
})
