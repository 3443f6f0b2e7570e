/** Oracles: laws that hold by the definition of the scene, worked out in place. */
import { describe, expect, it } from 'vitest'
import { generateTrack, type TrackScene, trackFlawSize, trackSegment } from './weld.ts'

const quiet: TrackScene = {
  length_m: 0.2,
  rate_Hz: 800,
  speed: { mean_m_s: 0.03, swing: 0, swing_m: 0.1 },
  encoderStep_m: 5e-5,
  field_m: 0.003,
  flaws: [{ depth_m: 0.0012, from_m: 0.08, to_m: 0.095 }],
  flaw: { half_depth_m: 0.0012, direction_rad: 1.2, turn_rad_per_m: 0 },
  material: { rms: 0, knot_m: 0.03, direction_rad: 0.3 },
  liftoff: { rms: 0, knot_m: 0.01, direction_rad: 3 },
  instrument: { gain: 2, rotation_rad: 0.5, x: 0.1, y: -0.3 },
  noise: 0
}

describe('a track', () => {
  const { x, y, position, truth } = generateTrack(quiet, 1)

  it('has its flaw where the truth says, as large as declared, along its direction', () => {
    expect(truth.flaws).toEqual([{ depth_mm: 1.2, start_mm: 80, end_mm: 95 }])
    const size = x.map((value, i) => Math.hypot(value - 0.1, y[i]! + 0.3))
    const middle = position.findIndex((at) => at >= 0.0875)
    // depth/(depth + half) is a half, gain 2
    expect(size[middle]).toBeCloseTo(1, 9)
    expect(trackFlawSize(quiet, quiet.flaws[0]!)).toBe(0.5)
    expect(Math.atan2(y[middle]! + 0.3, x[middle]! - 0.1)).toBeCloseTo(1.7, 9)
    // half its height at both ends, as a field that is narrower than the flaw gives
    const half = [...size.keys()].filter((i) => size[i]! >= 0.5).map((i) => position[i]!)
    expect(Math.min(...half)).toBeCloseTo(0.08, 3)
    expect(Math.max(...half)).toBeCloseTo(0.095, 3)
  })

  it('advances evenly in whole steps of the encoder', () => {
    expect(x.length).toBe(Math.ceil((0.2 / 0.03) * 800))
    for (const i of [0, 1, 500, 5000]) expect(Math.abs(position[i]! - (0.03 * i) / 800)).toBeLessThanOrEqual(2.6e-5)
    expect([...position].every((at) => Math.abs(Math.round(at / 5e-5) - at / 5e-5) < 1e-9)).toBe(true)
  })

  it('swings in speed as declared', () => {
    const swinging = { ...quiet, speed: { mean_m_s: 0.03, swing: 0.4, swing_m: 0.1 }, encoderStep_m: 1e-9 }
    const moved = generateTrack(swinging, 1).position
    // ds/dt = v/(1 + swing sin(2π s/L)), by central differences
    for (const i of [100, 700, 2000, 4100]) {
      const speed = ((moved[i + 1]! - moved[i - 1]!) * 800) / 2
      expect(speed).toBeCloseTo(0.03 / (1 + 0.4 * Math.sin((2 * Math.PI * moved[i]!) / 0.1)), 4)
    }
  })

  it('wanders slowly, with noise, the same for the same seed', () => {
    const scene = { ...quiet, flaws: [], material: { ...quiet.material, rms: 0.05 }, noise: 0.01 }
    const one = generateTrack(scene, 1)
    expect(generateTrack(scene, 1)).toEqual(one)
    expect(generateTrack(scene, 2).x).not.toEqual(one.x)
    const steps = one.x.subarray(1).map((value, i) => value - one.x[i]!)
    // white noise of 0.01 · gain 2 alone: √2 · 0.02 between neighbors
    const rms = Math.sqrt(steps.reduce((sum, v) => sum + v * v, 0) / steps.length)
    expect(rms / (Math.SQRT2 * 0.02)).toBeGreaterThan(0.96)
    expect(rms / (Math.SQRT2 * 0.02)).toBeLessThan(1.04)
    expect(Math.max(...one.x) - Math.min(...one.x)).toBeGreaterThan(0.15)
  })

  it('is a segment with a position', () => {
    const segment = trackSegment(generateTrack(quiet, 1))
    expect(segment.aux.position).toEqual(position)
    expect(segment.channels[0]!.x.length).toBe(position.length)
  })
})
