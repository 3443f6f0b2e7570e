/**
 * Oracles: the truth that the recording was generated from (testing/scene.ts), SciPy for what the band leaves of the pulse
 * (reference/scale.py), and laws: what a turned, scaled, shifted or later read recording has to give.
 */
import { describe, expect, it } from 'vitest'
import { bandOf, spacingOf } from './index.ts'
import scale from './reference/scale.json' with { type: 'json' }
import type { NotchReading, Standardization } from './standardization.ts'
import {
  changed,
  inOne,
  type read,
  recorded,
  refusedBy,
  scene,
  soundly,
  standard,
  technique,
  truth
} from './testing/scene.ts'

const DEG = Math.PI / 180
const recording = recorded(scene)
const plain = soundly({ segments: inOne(recording) })
const { standardization } = plain

/** Angle of a vector as that of a line, less another, −90° to 90°. */
const lineOff = (a: number, b: number) => {
  const turns = (a - b) / Math.PI
  return Math.PI * (turns - Math.round(turns))
}

const relative = (a: number, b: number) => Math.abs(a / b - 1)

describe('what a reference scan teaches', () => {
  it('the direction of lift-off, within three times its uncertainty', () => {
    const { angle_rad, uncertainty_rad, axisRatio } = standardization.rotation
    // lift-off lies at 170° + 35° in the recorded plane and has to come to 180°
    const off = angle_rad - (truth.liftoff_rad + truth.rotation_rad - Math.PI)
    expect(Math.abs(off)).toBeLessThan(3 * uncertainty_rad)
    expect(uncertainty_rad).toBeLessThan(3 * DEG)
    expect(axisRatio).toBeGreaterThan(2)
  })

  it('the way from metal to air along −x', () => {
    const { x, y, spread } = standardization.airStep
    expect(x).toBeLessThan(0)
    expect(Math.abs(y / x)).toBeLessThan(0.05)
    // a pair whose second pick-up is weaker by a tenth sees a tenth of the step of one
    const step = Math.hypot(x, y) / Math.hypot(standardization.turn.x, standardization.turn.y)
    expect(relative(step, 0.1 * 12 * truth.gain)).toBeLessThan(0.02)
    expect(spread).toBeLessThan(0.02)
  })

  it('the places of all notches', () => {
    expect(standardization.notches.map(({ id }) => id)).toEqual(standard.notches.map(({ id }) => id))
    for (const [k, { angle_rad, z_m, place }] of standardization.notches.entries()) {
      const { angle_deg, z0_mm, z1_mm } = standard.notches[k]!
      expect(Math.abs(angle_rad / DEG - angle_deg)).toBeLessThan(1)
      // a corner is half hidden: less of it is seen through the footprint before the face than behind it
      expect(Math.abs(z_m * 1e3 - 0.5 * (z0_mm + z1_mm))).toBeLessThan(place === 'mid-bore' ? 0.1 : 0.25)
    }
  })

  it('amplitudes as the areas of the notches have them', () => {
    const size = ({ depth_mm, length_mm }: NotchReading) => (depth_mm * length_mm) / (depth_mm * length_mm + 1.5)
    const bore = standardization.notches.filter(({ place }) => place === 'mid-bore')
    const named = bore.find(({ id }) => id === technique.alarm.notch)!
    expect(named.amplitude).toBe(1)
    expect(named.matched).toBeCloseTo(1, 12)
    for (const notch of bore) expect(relative(notch.amplitude, size(notch) / size(named))).toBeLessThan(0.1)
  })

  it('angles of the notches, lift-off being horizontal', () => {
    // 85° as lines; a chord of 1 between two points with this noise is known to about √2 · 0.02
    for (const { phase_rad, amplitude } of standardization.notches)
      expect(Math.abs(lineOff(phase_rad, truth.flaw_rad + 10 * DEG)) * amplitude).toBeLessThan(4 * 0.03)
  })

  it('the set-up it holds for', () => {
    expect(standardization).toMatchObject({
      kind: 'standardization',
      application: 'fastener hole',
      standard: 'R1',
      frequency_kHz: 500,
      metal: 'aluminum',
      diameter_mm: 6.35,
      named: 'mid-bore 0.5 mm',
      band: { unit: 'cycles per revolution' }
    })
    expect(standardization.speed_window.least).toBeCloseTo(20, 6)
    expect(standardization.speed_window.most).toBeCloseTo(30, 6)
    expect(standardization.band.low).toBeCloseTo(scale.low, 9)
    expect(standardization.band.high).toBeCloseTo(scale.high, 9)
    expect(standardization.limits.every(({ met }) => met)).toBe(true)
    expect(spacingOf(technique, 6.35)).toBeCloseTo((1.3 / (Math.PI * 6.35)) * 512, 12)
    expect(bandOf({ ...technique, band: { low: 3, high: 11 } }, 6.35)).toEqual({ low: 3, high: 11 })
  })

  it('what was lost at both ends', () => {
    expect(plain.dropped.map(({ reason }) => reason)).toEqual(['before the first turn', 'after the last turn'])
    expect(plain.notes).toEqual([])
  })
})

describe('where all but the vibration of the probe is nearly still', () => {
  // the named notch's revolution passes its middle: 8.63389 + 20 − 0.37 = 28 + 95/360
  // one notch alone: the band's own ringing of another one would reach it
  const still = changed({
    flaws: scene.flaws.slice(1, 2),
    motion: { feed: { kind: 'constant', pitch_m: 0.25e-3, leadIn_turn: 0.37 + 28 + 95 / 360 - 20, leadOut_turn: 8 } },
    probe: { imbalance: 1e-3, air: { size: 1000, direction_rad: truth.liftoff_rad } },
    wall: {
      roughness: { rms_m: 1e-9, length_m: 0.6e-3 },
      wobble: { rms_m: 1e-6, knot_turn: 0.7 },
      eccentricity_m: 0,
      ovality_m: 0
    },
    noise: { inTime: true, white: 4e-5, band: { rms: 0, bandwidth_Hz: 1500 }, wall: { rms: 0, length_m: 0.5e-3 } }
  })
  const alone = { ...standard, notches: standard.notches.slice(1, 2) }
  const out = soundly({ segments: inOne(recorded(still)), standard: alone }).standardization

  it('the scale is that of the pulse behind the band, within 1 %', () => {
    const size = (3 * 0.5 * 1.2) / (0.5 * 1.2 + 1.5)
    expect(relative(Math.hypot(out.turn.x, out.turn.y) * truth.gain * size * scale.kept, 1)).toBeLessThan(0.01)
  })

  it('the clock of the notch is right between the points of the ruler', () => {
    // a point is 0.7°
    expect(Math.abs(out.notches[0]!.angle_rad / DEG - 95)).toBeLessThan(0.03)
  })

  it('rotation and notch angles are right within half a degree', () => {
    expect(Math.abs(out.rotation.angle_rad - (truth.liftoff_rad + truth.rotation_rad - Math.PI)) / DEG).toBeLessThan(
      0.5
    )
    for (const { phase_rad } of out.notches)
      expect(Math.abs(lineOff(phase_rad, truth.flaw_rad + 10 * DEG)) / DEG).toBeLessThan(0.5)
  })
})

const same = (a: Standardization, b: Standardization, tolerance: number) => {
  for (const [k, notch] of a.notches.entries()) {
    const other = b.notches[k]!
    expect(relative(other.amplitude, notch.amplitude)).toBeLessThan(tolerance)
    expect(relative(other.matched, notch.matched)).toBeLessThan(tolerance)
    expect(Math.abs(other.phase_rad - notch.phase_rad)).toBeLessThan(tolerance)
    expect(relative(other.fitted.x, notch.fitted.x)).toBeLessThan(10 * tolerance)
    expect(relative(other.fitted.y, notch.fitted.y)).toBeLessThan(tolerance)
  }
}

describe('the recorded plane', () => {
  it.each([
    [40, 1, 0, 0],
    [-130, 3.7, 0, 0],
    [180, 0.01, -7, 3],
    [0, 250, 0.4, 0.9]
  ])('turned by %f°, times %f, shifted by %f, %f gives the same readings', (angle, gain, dx, dy) => {
    const [c, s] = [gain * Math.cos(angle * DEG), gain * Math.sin(angle * DEG)]
    const x = recording.x.map((v, i) => c * v - s * recording.y[i]! + dx)
    const y = recording.y.map((v, i) => c * v + s * recording.x[i]! + dy)
    const other = soundly({ segments: inOne({ x, y, index: recording.index }) }).standardization
    same(standardization, other, 1e-9)
    for (const [k, notch] of standardization.notches.entries()) {
      expect(Math.abs(other.notches[k]!.angle_rad - notch.angle_rad)).toBeLessThan(1e-9)
      expect(relative(other.notches[k]!.z_m, notch.z_m)).toBeLessThan(1e-9)
    }
    const turned = { x: other.turn.x * c - other.turn.y * s, y: other.turn.x * s + other.turn.y * c }
    expect(relative(turned.x, standardization.turn.x)).toBeLessThan(1e-9)
    expect(relative(turned.y, standardization.turn.y)).toBeLessThan(1e-9)
    expect(relative(other.noise.matched, standardization.noise.matched)).toBeLessThan(1e-9)
  })
})

describe('the start angle', () => {
  it.each([1, 5, 64, 331, -64])('later by %i · 360°/512 gives the same readings at angles that are less by it', (k) => {
    const index = recording.index.map((_, i) => recording.index[i - k] ?? 0)
    const turned = standard.notches.map((notch) => ({
      ...notch,
      angle_deg: (notch.angle_deg - (k * 360) / 512 + 720) % 360
    }))
    const other = soundly({
      segments: inOne({ ...recording, index }),
      standard: { ...standard, notches: turned }
    }).standardization
    // the faces are found on a trace with 32 points a revolution, which begins elsewhere now: that moves them by less than
    // 1 µm, and lets a few points of the clear wall change sides; amplitude and clock depend on neither
    same(standardization, other, 3e-5)
    for (const [n, notch] of standardization.notches.entries()) {
      const off = (other.notches[n]!.angle_rad - notch.angle_rad) / (2 * Math.PI) + k / 512
      expect(Math.abs(off - Math.round(off))).toBeLessThan(1e-9)
      expect(relative(other.notches[n]!.amplitude, notch.amplitude)).toBeLessThan(1e-9)
      expect(Math.abs(other.notches[n]!.z_m - notch.z_m)).toBeLessThan(1e-6)
    }
  })
})

describe('cutting', () => {
  it.each([[1], [777], [5000, 1, 20]])('into segments of %i … samples changes nothing, to the bit', (...lengths) => {
    const segments = []
    for (let first = 0, k = 0; first < recording.x.length; k++) {
      const to = Math.min(recording.x.length, first + lengths[k % lengths.length]!)
      const part = (column: Float64Array) => column.slice(first, to)
      segments.push({
        first,
        channels: [{ x: part(recording.x), y: part(recording.y) }],
        aux: { index: part(recording.index) }
      })
      first = to
    }
    expect(soundly({ segments })).toEqual(plain)
  })
})

describe('a standard set a few degrees off its datum', () => {
  it('is read at the angles where its notches are', () => {
    const notches = standard.notches.map((notch) => ({ ...notch, angle_deg: notch.angle_deg - 6 }))
    const other = soundly({ segments: inOne(recording), standard: { ...standard, notches } }).standardization
    for (const [k, { fitted, angleOff_rad }] of other.notches.entries()) {
      expect(Math.abs(angleOff_rad / DEG - 6)).toBeLessThan(1)
      expect(relative(fitted.y, standardization.notches[k]!.fitted.y)).toBeLessThan(0.05)
    }
  })
})

describe('an unknown angle datum', () => {
  it('is found from the pattern of all notches', () => {
    const notches = standard.notches.map((notch) => ({ ...notch, angle_deg: (notch.angle_deg + 123) % 360 }))
    const unknown = { ...standard, angle_datum: 'unknown' as const, notches }
    const { standardization: found } = soundly({ segments: inOne(recording), standard: unknown })
    for (const [k, { angle_rad, angleOff_rad }] of found.notches.entries()) {
      expect(Math.abs(angle_rad / DEG - standard.notches[k]!.angle_deg)).toBeLessThan(1)
      expect(Math.abs(angleOff_rad / DEG)).toBeLessThan(2)
    }
    expect(
      refusedBy({ segments: inOne(recording), standard: { ...unknown, angle_datum: 'index pulse' } }).refused
    ).toBe(true)
  })

  it('is what there is when there is no index pulse at all', () => {
    const { x, y } = recorded(changed({ wall: { eccentricity_m: 60e-6, ovality_m: 40e-6 } }))
    const unknown = { ...standard, angle_datum: 'unknown' as const }
    const out = soundly({ segments: inOne({ x, y }), standard: unknown, indexed: false })
    expect(out.notes[0]).toContain('no index pulse')
    const amplitudes = out.standardization.notches.map(({ amplitude }) => amplitude)
    for (const [k, amplitude] of amplitudes.entries())
      expect(relative(amplitude, standardization.notches[k]!.amplitude)).toBeLessThan(0.15)
  })
})

describe('a band that costs more than a tenth of the pulse', () => {
  it('is said', () => {
    const { notes } = soundly({
      segments: inOne(recording),
      technique: { ...technique, band: { low: 4.2, high: 14.7 } }
    })
    expect(notes).toHaveLength(1)
    expect(notes[0]).toMatch(/takes (1\d|2\d) % of the notch pulse/)
  })
})

describe('refusals', () => {
  const refused = (reading: Partial<Parameters<typeof read>[0]>) =>
    refusedBy({ segments: inOne(recording), ...reading })
  const scanned = (change: Parameters<typeof changed>[0]) => ({ segments: inOne(recorded(changed(change))) })

  it('standardize/reference-too-long', () => {
    const samples = 4100 * 76
    const index = Float64Array.from({ length: samples }, (_, i) => (i % 76 < 4 ? 5 : 0))
    const x = index.map((_, i) => Math.sin(i))
    const endless = { segments: inOne({ x, y: x, index }), rate_Hz: 76 * 25 }
    expect(refused(endless)).toMatchObject({ code: 'standardize/reference-too-long' })
  })

  it('standardize/no-entry-step', () => {
    expect(refused(scanned({ fault: { kind: 'in air' } })).code).toBe('standardize/no-entry-step')
    const dead = { ...recording, x: recording.x.map(() => 0.1), y: recording.y.map(() => 0.2) }
    expect(refused({ segments: inOne(dead) }).code).toBe('standardize/no-entry-step')
  })

  it('standardize/no-exit-step', () => {
    const cut = (column: Float64Array) => column.slice(0, 30 * 512)
    const part = { x: cut(recording.x), y: cut(recording.y), index: cut(recording.index) }
    expect(refused({ segments: inOne(part) }).code).toBe('standardize/no-exit-step')
  })

  it('standardize/notch-missing', () => {
    const flaws = scene.flaws.filter((_, k) => k !== 3)
    const refusal = refused({ segments: inOne(recorded(changed({ flaws }), 3)) })
    expect(refusal.code).toBe('standardize/notch-missing')
    expect(refusal.found).toContain('entry corner 0.5 mm')
  })

  it('standardize/notches-out-of-order', () => {
    const depth = [1, 0.5, 0.3, 0.5, 1]
    const wrong = standard.notches.map((notch, k) => ({ ...notch, depth_mm: depth[k]! }))
    expect(refused({ standard: { ...standard, notches: wrong } }).code).toBe('standardize/notches-out-of-order')
  })

  it('standardize/notch-below-noise', () => {
    const strict = { ...technique, min_signal_to_noise: 100 }
    const refusal = refused({ technique: strict })
    expect(refusal).toMatchObject({ code: 'standardize/notch-below-noise', needed: '100 or more' })
  })

  it('standardize/clipped', () => {
    const limit = 0.9 * Math.max(...recording.x.map(Math.abs))
    expect(refused(scanned({ fault: { kind: 'clipped', limit } })).code).toBe('standardize/clipped')
  })

  it('standardize/rotation-undetermined', () => {
    const quiet = scanned({
      wall: {
        roughness: { rms_m: 0, length_m: 0.6e-3 },
        wobble: { rms_m: 0, knot_turn: 0.7 },
        eccentricity_m: 0,
        ovality_m: 0
      }
    })
    expect(refused(quiet).code).toBe('standardize/rotation-undetermined')
  })

  it('standardize/too-little-wall', () => {
    const all = [15, 75, 135, 195, 255, 315]
    const full = {
      ...standard,
      notches: all.map((angle_deg, k) => ({
        ...standard.notches[0]!,
        id: `N${k}`,
        depth_mm: 1,
        angle_deg,
        z0_mm: 2,
        z1_mm: 8
      }))
    }
    expect(refused({ standard: full }).code).toBe('standardize/too-little-wall')
  })

  it('standardize/band-eats-pulse', () => {
    const high = { ...technique, band: { low: 6.5, high: 14.7 } }
    expect(refused({ technique: high }).code).toBe('standardize/band-eats-pulse')
  })

  it('standardize/unknown-notch', () => {
    const other = { ...technique, alarm: { notch: 'mid-bore 0.7 mm', share: 0.5 } }
    expect(refused({ technique: other }).code).toBe('standardize/unknown-notch')
  })

  it('standardize/metal-differs', () => {
    expect(refused({ technique: { ...technique, metal: 'titanium' } }).code).toBe('standardize/metal-differs')
  })

  it('those of the signal room', () => {
    const short = { x: recording.x.slice(0, 600), y: recording.y.slice(0, 600), index: recording.index.slice(0, 600) }
    expect(refused({ segments: inOne(short) }).code).toBe('signal/too-short')
  })
})
