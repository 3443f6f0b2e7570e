/** Oracle: the paint law of the generated blocks, whose parameters the reading does not know: slots, coating, lift-off. */
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import type { WeldStandard, WeldTechnique } from '../plan/index.ts'
import { generateTrack, type TrackPaint, type TrackScene, trackSegment } from '../rehearse/index.ts'
import {
  openParent,
  openShimRun,
  type ParentReading,
  type ShimReading,
  type Standardized,
  scaleOf,
  slotUnder,
  standardizeWeld
} from './index.ts'
import { equipment } from './testing/scene.ts'

const DEG = Math.PI / 180
const standard: WeldStandard = {
  id: 'B2',
  metal: 'carbon steel',
  slots: [0.5, 1, 2].map((depth_mm, k) => ({ id: `${depth_mm.toFixed(1)} mm`, depth_mm, position_mm: 50 * (k + 1) }))
}

const technique: WeldTechnique = {
  application: 'weld',
  procedure: { id: 'P', revision: 'A' },
  metal: 'carbon steel',
  frequency_kHz: 100,
  field_width_mm: 3,
  max_speed_mm_s: 50,
  alarm: { slot: '0.5 mm', share: 0.5 },
  min_signal_to_noise: 3
}

const paintOf = (mean_mm: number, change: Partial<TrackPaint['absolute']> = {}): TrackPaint => ({
  mean_mm,
  swing: { mm: 0, every_m: 0.3 },
  runs: [],
  edges: [],
  fall_mm: 1.4,
  absolute: { bare: 1.9, rise: -1.6, settle_mm: 2.3, noise: 0.004, permeability: [], ...change }
})

const scene: TrackScene = {
  length_m: 0.2,
  rate_Hz: 800,
  speed: { mean_m_s: 0.03, swing: 0.3, swing_m: 0.07 },
  encoderStep_m: 5e-5,
  field_m: 0.003,
  flaws: standard.slots.map(({ depth_mm, position_mm }) => ({
    depth_m: depth_mm * 1e-3,
    from_m: (position_mm - 0.1) * 1e-3,
    to_m: (position_mm + 0.1) * 1e-3
  })),
  flaw: { half_depth_m: 1.5e-3, direction_rad: 80 * DEG, turn_rad_per_m: -60 },
  material: { rms: 0, knot_m: 0.03, direction_rad: 0 },
  liftoff: { rms: 0.02, knot_m: 0.01, direction_rad: 165 * DEG },
  instrument: { gain: 0.7, rotation_rad: 25 * DEG, x: 0.4, y: -0.2 },
  noise: 0.004
}

const reference = { technique, standard, equipment, rate_Hz: scene.rate_Hz }
const SHIMS = [0, 0.5, 1, 1.5, 2]

function readingOf(shim_mm: number, change: Partial<TrackScene> = {}): Result<ShimReading> {
  const recording = generateTrack({ ...scene, paint: paintOf(shim_mm), ...change }, 1 + shim_mm)
  const run = openShimRun({ ...reference, shim_mm })
  const taken = run.take(trackSegment(recording))
  return isRefusal(taken) ? taken : run.close()
}

function must<T>(result: Result<T>): T {
  if (isRefusal(result)) throw new Error(`${result.code}: ${result.found}`)
  return result as T
}

const readings = SHIMS.map((shim) => must(readingOf(shim)))
const joined = (runs: readonly ShimReading[], change: Partial<typeof reference> = {}): Result<Standardized> =>
  standardizeWeld({ ...reference, ...change }, runs)
const codeOf = (result: Result<unknown>): string => (isRefusal(result) ? result.code : 'read')

describe('a block under shims', () => {
  const { standardization } = must(joined(readings))
  const coating = standardization.coating!

  it('answers over depth and coating as it was made', () => {
    const size = (depth: number, mm: number) => (depth / (depth + 1.5)) * Math.exp(-mm / 1.4)
    // vertical part of a slot that turns with depth: from 80° less 3.4° a millimeter, lift-off along 165°
    const upright = (depth: number) =>
      Math.sin((80 - (depth * 60e-3) / DEG - 165) * DEG) / Math.sin((80 - (0.5 * 60e-3) / DEG - 165) * DEG)
    for (const { shim_mm, slots } of coating.shims)
      for (const { depth_mm, amplitude } of slots) {
        const expected = (size(depth_mm, shim_mm) / size(0.5, 0)) * upright(depth_mm)
        expect(Math.abs(amplitude / expected - 1)).toBeLessThan(0.06)
      }
    const off = coating.liftOff.angle_rad / DEG - 190
    expect(Math.abs(off - 180 * Math.round(off / 180))).toBeLessThan(3)
  })

  it('without one shim between two others its slots come back within 10 %, its coating within 0.1 mm', () => {
    expect(coating.leftOut.map(({ shim_mm }) => shim_mm)).toEqual([0.5, 1, 1.5])
    for (const { slots, coating_mm } of coating.leftOut) {
      expect(slots).toBeLessThan(0.1)
      expect(coating_mm).toBeLessThan(0.1)
    }
  })

  it('tells coatings between the shims, and none beyond them', () => {
    const scale = scaleOf(coating.shims)!
    const level = (mm: number) => 1.9 - 1.6 * (1 - Math.exp(-mm / 2.3))
    for (const mm of [0, 0.3, 0.77, 1.2, 1.9]) expect(scale.read(level(mm))).toBeCloseTo(mm, 2)
    expect(scale.read(level(2.4))).toBe('thicker than the shims')
    expect(scale.read(level(-0.2))).toBe('thinner than the shims')
    expect(scale.read(Number.NaN)).toBe('not read')
    expect(slotUnder(coating.shims, '1.0 mm', 2.01)).toBeUndefined()
    expect(slotUnder(coating.shims, '1.0 mm', -0.01)).toBeUndefined()
    expect(slotUnder(coating.shims, 'none', 1)).toBeUndefined()
  })

  it('says how far its answers scatter', () => {
    for (const { slots } of coating.shims)
      for (const { scatter } of slots) {
        expect(scatter).toBeGreaterThan(0)
        expect(scatter).toBeLessThan(0.1)
      }
  })
})

describe('refusals of a block', () => {
  it('standardize/notches-out-of-order under any shim', () => {
    const swapped = { ...standard, slots: standard.slots.map((slot, k) => ({ ...slot, depth_mm: [1, 0.5, 2][k]! })) }
    expect(codeOf(joined(readings, { standard: swapped }))).toBe('standardize/notches-out-of-order')
  })

  it('standardize/shims-out-of-order: two of one thickness, or named wrong', () => {
    expect(codeOf(joined([...readings, readings[0]!]))).toBe('standardize/shims-out-of-order')
    const swapped = readings.map((one, k) => ({ ...one, shim_mm: [0, 1, 0.5, 1.5, 2][k]! }))
    expect(codeOf(joined(swapped))).toBe('standardize/shims-out-of-order')
  })

  it('standardize/shim-left-out: a shim that does not fit between its neighbors', () => {
    const off = readings.map((one) => (one.shim_mm === 1 ? { ...one, shim_mm: 0.75 } : one))
    expect(codeOf(joined(off))).toBe('standardize/shim-left-out')
  })

  it('standardize/absolute-differs: the channel in some runs only', () => {
    const { absolute: _, ...without } = readings[2]!
    expect(codeOf(joined(readings.map((one, k) => (k === 2 ? without : one))))).toBe('standardize/absolute-differs')
    const none = readings.map(({ absolute: __, ...one }) => one)
    expect(codeOf(joined(none))).toBe('read')
    expect(scaleOf(must(joined(none)).standardization.coating!.shims)).toBeUndefined()
  })

  it('standardize/clipped: either channel', () => {
    const recording = generateTrack({ ...scene, paint: paintOf(1) }, 1)
    const runOf = (change: Partial<typeof recording>) => {
      const run = openShimRun({ ...reference, shim_mm: 1 })
      must(run.take(trackSegment({ ...recording, ...change })))
      return codeOf(run.close())
    }
    const limit = 0.4 + 0.3 * (Math.max(...recording.x) - 0.4)
    expect(runOf({ x: recording.x.map((x) => Math.min(x, limit)) })).toBe('standardize/clipped')
    const level = recording.absolute!.reduce((sum, a) => sum + a, 0) / recording.absolute!.length
    expect(runOf({ absolute: recording.absolute!.map((a) => Math.min(a, level)) })).toBe('standardize/clipped')
  })

  it('standardize/unknown-notch and standardize/rotation-undetermined', () => {
    const other = { ...technique, alarm: { slot: '3 mm', share: 0.5 } }
    expect(codeOf(joined(readings, { technique: other }))).toBe('standardize/unknown-notch')
    expect(codeOf(joined([]))).toBe('standardize/unknown-notch')
    const round = readings.map((one) => ({ ...one, liftOff: undefined }))
    expect(codeOf(joined(round))).toBe('standardize/rotation-undetermined')
  })
})

describe('parent metal', () => {
  const { standardization } = must(joined(readings))
  const parentOf = (change: Partial<TrackScene> = {}): Result<ParentReading> => {
    const recording = generateTrack({ ...scene, length_m: 0.15, flaws: [], paint: paintOf(1.2), ...change }, 9)
    const run = openParent({ technique, standardization, rate_Hz: recording.rate_Hz, recording: 'parent' })
    const taken = run.take(trackSegment(recording))
    return isRefusal(taken) ? taken : run.close()
  }

  it('tells its coating', () => {
    const { coating, liftOff } = must(parentOf())
    expect(coating!.median_mm).toBeCloseTo(1.2, 1)
    expect(coating!.greatest_mm - coating!.least_mm).toBeLessThan(0.1)
    expect(Math.abs(liftOff.off_rad)).toBeLessThan(2 * DEG + 2 * liftOff.doubt_rad)
  })

  it('standardize/part-differs where its lift-off lies more than 5° from the block’s', () => {
    const turned = (deg: number) => ({ liftoff: { ...scene.liftoff, direction_rad: (165 + deg) * DEG } })
    expect(codeOf(parentOf(turned(9)))).toBe('standardize/part-differs')
    expect(codeOf(parentOf(turned(2)))).toBe('read')
  })

  it('standardize/coating-outside-shims', () => {
    expect(codeOf(parentOf({ paint: paintOf(2.6) }))).toBe('standardize/coating-outside-shims')
  })

  it('without an absolute channel tells only the metal', () => {
    const { paint: _, ...bare } = { ...scene, flaws: [], length_m: 0.15 }
    const recording = generateTrack(bare, 9)
    const run = openParent({ technique, standardization, rate_Hz: recording.rate_Hz, recording: 'parent' })
    must(run.take(trackSegment(recording)))
    expect(must(run.close()).coating).toBeUndefined()
  })
})
