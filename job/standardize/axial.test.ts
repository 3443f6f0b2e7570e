import { describe, expect, it } from 'vitest'
import { fittedShape, unitShape } from './index.ts'
import reference from './reference/axial.json' with { type: 'json' }
import type { NotchReading } from './standardization.ts'
import {
  changed,
  inOne,
  technique as plainTechnique,
  recorded,
  scene,
  soundly,
  standard,
  truth
} from './testing/scene.ts'

/** All but the notches nearly still. */
const still = changed({
  probe: { imbalance: 1e-3, air: { size: 1000, direction_rad: truth.liftoff_rad } },
  wall: {
    roughness: { rms_m: 1e-9, length_m: 0.6e-3 },
    wobble: { rms_m: 1e-6, knot_turn: 0.7 },
    eccentricity_m: 0,
    ovality_m: 0
  },
  noise: { inTime: true, white: 4e-5, band: { rms: 0, bandwidth_Hz: 1500 }, wall: { rms: 0, length_m: 0.5e-3 } }
})
/** Each mid-bore notch alone: the band's own ringing of another one would reach it. */
const alone = standard.notches.slice(0, 3).map((notch, k) => {
  const recording = recorded({ ...still, flaws: scene.flaws.slice(k, k + 1) })
  const technique = { ...plainTechnique, alarm: { notch: notch.id, share: 0.5 } }
  return soundly({ segments: inOne(recording), standard: { ...standard, notches: [notch] }, technique }).standardization
})
const { standardization: quiet } = soundly({ segments: inOne(recorded(still)) })
const { standardization: noisy } = soundly({ segments: inOne(recorded(scene)) })
const bore = (notch: { place: string }) => notch.place === 'mid-bore'
const expectedOf = ({ length_mm }: { length_mm: number }) =>
  reference.notches.find((one) => Math.abs(one.length_mm - length_mm) < 1e-9)!

describe('the extent of a notch along the axis', () => {
  it('is that of the footprint over the notch', () => {
    // linear between revolutions 0.25 mm apart, and the largest of them instead of the top: 0.04 mm at most
    for (const notch of alone.flatMap(({ notches }) => notches))
      expect(Math.abs(notch.extent_m! * 1e3 - expectedOf(notch).extent_mm)).toBeLessThan(0.04)
    // noise of 0.02 to 0.035 of the named notch on the crossing of the weakest, 0.45: a slope of 1.4/mm
    for (const notch of noisy.notches.filter(bore))
      expect(Math.abs(notch.extent_m! * 1e3 - expectedOf(notch).extent_mm)).toBeLessThan(0.15)
  })

  it('ends at the face for a corner', () => {
    // the outer half of what is seen of a corner lies in air
    for (const { place, z_m, extent_m, rows } of quiet.notches) {
      if (place !== 'entry corner') continue
      expect(extent_m!).toBeLessThan(2 * z_m + 1.2e-3)
      expect(extent_m!).toBeGreaterThan(0.3e-3)
      expect(rows!.z_m.some((z) => z < 0)).toBe(true)
    }
  })
})

describe('the revolutions of a notch', () => {
  const sizes = ({ rows }: NotchReading) => rows!.x.map((x, i) => Math.hypot(x, rows!.y[i]!))

  it('are at most 12 on either side, a pitch apart', () => {
    for (const { rows } of quiet.notches) {
      expect(rows!.z_m.length).toBeLessThanOrEqual(25)
      expect([rows!.x.length, rows!.y.length]).toEqual([rows!.z_m.length, rows!.z_m.length])
      for (const [i, z] of rows!.z_m.slice(1).entries())
        expect(Math.abs(z - rows!.z_m[i]! - 0.25e-3)).toBeLessThan(2e-6)
    }
  })

  it('have the size 1 at the top of the named notch, upward', () => {
    for (const { notches, named } of [quiet, noisy]) {
      const alarm = notches.find(({ id }) => id === named)!
      const top = sizes(alarm).indexOf(Math.max(...sizes(alarm)))
      expect(Math.abs(sizes(alarm)[top]! - 1)).toBeLessThan(0.02)
      expect(alarm.rows!.y[top]!).toBeGreaterThan(0)
    }
  })
})

describe('the axial profile', () => {
  it('is of the smallest mid-bore notch, as the footprint makes it', () => {
    expect(noisy.axial).toMatchObject({ notch: 'mid-bore 0.3 mm' })
    for (const [{ axial }, within] of [...alone.map((one) => [one, 0.04] as const), [noisy, 0.1] as const]) {
      const { profile, length_mm } = axial!
      const curve = expectedOf({ length_mm }).shares
      const at = (d: number) => {
        const i = Math.min(curve.length - 2, Math.floor(d / 0.05))
        return curve[i]! + (d / 0.05 - i) * (curve[i + 1]! - curve[i]!)
      }
      // within 1 mm of the middle, where the curve is tabulated; the largest revolution lies up to 3 % below the top
      const inner = profile.filter(({ dz_m }) => Math.abs(dz_m) < 1e-3)
      expect(inner.length).toBe(8)
      for (const { dz_m, share } of inner) expect(Math.abs(share - at(1e3 * Math.abs(dz_m)))).toBeLessThan(within)
    }
  })

  it('passes over notches that stand less than ten times above the noise', () => {
    const loud = changed({
      wall: { wobble: { rms_m: 45e-6, knot_turn: 0.7 } },
      noise: {
        inTime: true,
        white: 0.004,
        band: { rms: 0.002, bandwidth_Hz: 1500 },
        wall: { rms: 0.035, length_m: 0.5e-3 }
      }
    })
    const { axial, sizeNoise, notches } = soundly({ segments: inOne(recorded(loud)) }).standardization
    // across lift-off, where notches of this scene lie
    const over = notches.filter(bore).map(({ rows }) => Math.max(...rows!.y.map(Math.abs)) / Math.sqrt(sizeNoise!.yy))
    expect(over[0]!).toBeLessThan(9.5)
    expect(over[1]!).toBeGreaterThan(10.5)
    expect(axial!.notch).toBe('mid-bore 0.5 mm')
  })

  it('is not there without a mid-bore notch', () => {
    const technique = { ...plainTechnique, alarm: { notch: 'entry corner 1 mm', share: 0.5 } }
    const corners = { ...standard, notches: standard.notches.slice(3) }
    const out = soundly({
      segments: inOne(recorded({ ...scene, flaws: scene.flaws.slice(3) })),
      standard: corners,
      technique
    })
    expect('axial' in out.standardization).toBe(false)
  })
})

describe('the scatter of the fitted size', () => {
  it('goes with the square of the noise of the wall', () => {
    const double = changed({
      noise: {
        inTime: true,
        white: 0.008,
        band: { rms: 0.004, bandwidth_Hz: 1500 },
        wall: { rms: 0.016, length_m: 0.5e-3 }
      }
    })
    const { sizeNoise } = soundly({ segments: inOne(recorded(double)) }).standardization
    // 4 times as much, less what roughness and the ringing of notches have in it and a doubled noise has not
    expect(sizeNoise!.yy / noisy.sizeNoise!.yy).toBeGreaterThan(2.5)
    expect(sizeNoise!.yy / noisy.sizeNoise!.yy).toBeLessThan(4.4)
    expect(noisy.sizeNoise!.points).toBeGreaterThan(1000)
  })

  it('is 1 for the named notch’s own form, whatever way it points', () => {
    for (const turn of [0, 1, 2, 3, 4, 5]) {
      const [c, s] = [Math.cos(turn), Math.sin(turn)]
      const { x, y } = noisy.form
      const form = {
        half: noisy.form.half,
        x: x.map((v, i) => c * v - s * y[i]!),
        y: x.map((v, i) => s * v + c * y[i]!)
      }
      const size = fittedShape({ x: Float64Array.from(form.x), y: Float64Array.from(form.y) }, unitShape(form), [
        form.half
      ])
      expect(Math.hypot(size.x, size.y)).toBeCloseTo(1, 12)
      expect(size.y).toBeGreaterThan(0)
    }
    expect(new Set(unitShape({ half: 1, x: [0, 0, 0], y: [0, 0, 0] })).size).toBe(1)
  })
})
