/** Oracle: the truth of the tracks that were generated: direction, size and place of every slot. */
import { isRefusal, type Result } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import type { WeldStandard, WeldTechnique } from '../plan/index.ts'
import { generateTrack, type TrackScene, trackSegment } from '../rehearse/index.ts'
import { openWeldReference, type Standardized } from './index.ts'
import { equipment } from './testing/scene.ts'

const DEG = Math.PI / 180

const slots: WeldStandard['slots'] = [
  { id: '0.5 mm', depth_mm: 0.5, position_mm: 60 },
  { id: '1.0 mm', depth_mm: 1, position_mm: 120 },
  { id: '2.0 mm', depth_mm: 2, position_mm: 180 }
]
const standard: WeldStandard = { id: 'B1', metal: 'carbon steel', slots }

const technique: WeldTechnique = {
  application: 'weld',
  procedure: { id: 'P', revision: 'A' },
  metal: 'carbon steel',
  frequency_kHz: 100,
  field_width_mm: 3,
  max_speed_mm_s: 50,
  alarm: { slot: '1.0 mm', share: 0.5 },
  min_signal_to_noise: 3
}

/** Lift-off along 165° and slots along 80°, both turned by 25° by the instrument. */
const scene: TrackScene = {
  length_m: 0.24,
  rate_Hz: 800,
  speed: { mean_m_s: 0.03, swing: 0.3, swing_m: 0.07 },
  encoderStep_m: 5e-5,
  field_m: 0.003,
  flaws: slots.map(({ depth_mm, position_mm }) => ({
    depth_m: depth_mm * 1e-3,
    from_m: (position_mm - 0.1) * 1e-3,
    to_m: (position_mm + 0.1) * 1e-3
  })),
  flaw: { half_depth_m: 1.5e-3, direction_rad: 80 * DEG, turn_rad_per_m: 0 },
  material: { rms: 0, knot_m: 0.03, direction_rad: 0 },
  liftoff: { rms: 0.01, knot_m: 0.01, direction_rad: 165 * DEG },
  instrument: { gain: 0.7, rotation_rad: 25 * DEG, x: 0.4, y: -0.2 },
  noise: 0.004
}

const read = (
  of: TrackScene,
  change: { technique?: WeldTechnique; standard?: WeldStandard } = {}
): Result<Standardized> => {
  const recording = generateTrack(of, 1)
  const run = openWeldReference({ technique, standard, equipment, rate_Hz: recording.rate_Hz, ...change })
  if (isRefusal(run)) return run
  const taken = run.take(trackSegment(recording))
  return isRefusal(taken) ? taken : run.close()
}

const code = (of: TrackScene, change: Parameters<typeof read>[1] = {}) => {
  const out = read(of, change)
  return isRefusal(out) ? out.code : 'read'
}

describe('a run over the reference block', () => {
  const out = read(scene)
  if (isRefusal(out)) throw new Error(`${out.code}: ${out.found}`)
  const { standardization } = out

  it('teaches the line of lift-off, with the slots upward', () => {
    // lift-off lies along 190°, a line, so along 10°
    const off = standardization.rotation.angle_rad / DEG - 10
    expect(Math.abs(off - 180 * Math.round(off / 180))).toBeLessThan(3)
    const upward = standardization.notches.map(({ fitted }) => fitted.y)
    expect(Math.min(...upward)).toBeGreaterThan(0)
  })

  it('has amplitudes as the depths have them, 1 at the named slot', () => {
    const size = (depth: number) => depth / (depth + 1.5)
    expect(standardization.notches.map(({ id }) => id)).toEqual(slots.map(({ id }) => id))
    for (const { depth_mm, amplitude } of standardization.notches)
      expect(Math.abs(amplitude - size(depth_mm) / size(1))).toBeLessThan(0.08)
  })

  it('finds the slots at their places', () => {
    for (const { zOff_m } of standardization.notches) expect(Math.abs(zOff_m)).toBeLessThan(0.3e-3)
  })

  it('says the band in the unit it names', () => {
    // three times the 3 dB corner of a bell-shaped field of 3 mm
    expect(standardization.band).toMatchObject({ low: 0, unit: 'cycles per mm' })
    expect(standardization.band.high).toBeCloseTo((3 * 0.312) / 3, 9)
  })
})

describe('refusals', () => {
  it('a slot that is not there', () => {
    expect(code(scene, { technique: { ...technique, alarm: { slot: '3 mm', share: 0.5 } } })).toBe(
      'standardize/unknown-notch'
    )
  })
  it('slots out of order', () => {
    const swapped = slots.map((slot, k) => ({ ...slot, depth_mm: [2, 1, 0.5][k]! }))
    expect(code(scene, { standard: { ...standard, slots: swapped } })).toBe('standardize/notches-out-of-order')
  })
  it('a plate too noisy', () => {
    expect(code({ ...scene, noise: 0.3, liftoff: { ...scene.liftoff, rms: 0.7 } })).toMatch(
      /^standardize\/(notch-below-noise|notches-out-of-order)$/
    )
    expect(code(scene, { technique: { ...technique, min_signal_to_noise: 1e6 } })).toBe('standardize/notch-below-noise')
  })
  it('noise without a direction', () => {
    expect(code({ ...scene, liftoff: { ...scene.liftoff, rms: 0 } })).toBe('standardize/rotation-undetermined')
  })
  it('slots that leave no plate', () => {
    const dense = Array.from({ length: 24 }, (_, k) => ({ id: `S${k}`, depth_mm: 1 + k, position_mm: 5 + 10 * k }))
    expect(code(scene, { standard: { ...standard, slots: dense } })).toBe('standardize/too-little-wall')
  })
})
