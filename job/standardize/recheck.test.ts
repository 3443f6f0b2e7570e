/** Oracles: drifts that the recordings were given (testing/scene.ts), and readings written by hand. */
import { describe, expect, it } from 'vitest'
import { compareRecheck, type NotchReading, type Standardization } from './index.ts'
import { changed, inOne, recorded, scene, soundly, technique, truth } from './testing/scene.ts'

const DEG = Math.PI / 180
const allowance = technique.recheck_allowance
const start = soundly({ segments: inOne(recorded(scene, 1)) }).standardization
const again = (change: Parameters<typeof changed>[0], seed = 2) =>
  compareRecheck(start, soundly({ segments: inOne(recorded(changed(change), seed)) }).standardization, allowance)

const gain = (share: number) => again({ instrument: { gain: truth.gain * share } })

describe('a recheck', () => {
  it('passes when nothing has changed but the noise', () => {
    const { passed, drifts } = gain(1)
    expect(passed).toBe(true)
    expect(drifts.map(({ notch }) => notch)).toEqual(start.notches.map(({ id }) => id))
    const named = drifts.find(({ notch }) => notch === start.named)!
    expect(named.verdict).toBe('met')
    expect(Math.abs(named.amplitude)).toBeLessThan(named.amplitudeUncertainty + 0.03)
  })

  it.each([0.78, 1.25])('fails when the gain is %f of what it was, and says by how much', (share) => {
    const { passed, drifts } = gain(share)
    expect(passed).toBe(false)
    for (const { notch, amplitude, amplitudeUncertainty, verdict } of drifts.filter(({ notch }) =>
      notch.includes('1 mm')
    )) {
      expect([notch, verdict]).toEqual([notch, 'exceeded'])
      expect(Math.abs(amplitude - (share - 1))).toBeLessThan(amplitudeUncertainty + 0.03)
    }
  })

  it('passes when gain and plane moved together and back: the plane of the first counts', () => {
    // a plane turned by 40° is a drift of 40°: the instrument's own phase was moved
    const { passed, drifts } = again({ instrument: { rotation_rad: truth.rotation_rad + 40 * DEG } })
    expect(passed).toBe(false)
    for (const { notch, angle_rad, amplitude } of drifts.filter(({ notch }) => notch.includes('1 mm'))) {
      expect([notch, Math.abs(angle_rad / DEG - 40) < 4, Math.abs(amplitude) < 0.06]).toEqual([notch, true, true])
    }
  })

  it('does not depend on where the recording begins', () => {
    const { passed } = again({ recorder: { index: { ...scene.recorder.index, first_turn: 0.81 } } })
    expect(passed).toBe(true)
  })
})

const reading = (id: string, fitted: { x: number; y: number }, noise = 0): NotchReading => ({
  id,
  place: 'mid-bore',
  depth_mm: 1,
  length_mm: 1,
  amplitude: 1,
  matched: 1,
  phase_rad: 0,
  fitted,
  fittedNoise: { x: noise, y: noise },
  angle_rad: 0,
  z_m: 0,
  angleOff_rad: 0,
  zOff_m: 0
})

const with_ = (notches: readonly NotchReading[], turn = { x: 1, y: 0 }): Standardization => ({
  ...start,
  named: 'A',
  notches,
  turn,
  rotation: { ...start.rotation, angle_rad: -Math.atan2(turn.y, turn.x) }
})

describe('the verdict', () => {
  const then = with_([reading('A', { x: 0, y: 2 }), reading('B', { x: 0, y: 1 })])
  const compare = (a: NotchReading, b = reading('B', { x: 0, y: 1 })) => compareRecheck(then, with_([a, b]), allowance)

  it('is met up to the allowance and exceeded beyond it, by amplitude', () => {
    expect(compare(reading('A', { x: 0, y: 2.19 })).drifts[0]).toMatchObject({ verdict: 'met' })
    const { passed, drifts } = compare(reading('A', { x: 0, y: 1.78 }))
    expect(passed).toBe(false)
    expect(drifts[0]).toMatchObject({ verdict: 'exceeded' })
    expect(drifts[0]!.amplitude).toBeCloseTo(-0.11, 12)
  })

  it('by angle, as that of a line', () => {
    const turned = (deg: number, size = 2) =>
      reading('A', { x: size * Math.sin(deg * DEG), y: size * Math.cos(deg * DEG) })
    expect(compare(turned(4.9))).toMatchObject({ passed: true })
    expect(compare(turned(184.9)).drifts[0]!.angle_rad / DEG).toBeCloseTo(4.9, 9)
    const { passed, drifts } = compare(turned(-5.1))
    expect(passed).toBe(false)
    expect(drifts[0]!.angle_rad / DEG).toBeCloseTo(5.1, 9)
  })

  it('is not resolved where the noise explains it: fails at the alarm notch, not at another', () => {
    // 2 · 1.15 · √2 · 0.04/2 … is more than the 5 % beyond the allowance
    const noisy = with_([reading('A', { x: 0, y: 2 }), reading('B', { x: 0, y: 1 }, 0.04)])
    const weak = compareRecheck(
      noisy,
      with_([reading('A', { x: 0, y: 2 }), reading('B', { x: 0, y: 1.15 }, 0.04)]),
      allowance
    )
    expect(weak.drifts[1]).toMatchObject({ verdict: 'not resolved' })
    expect(weak.drifts[1]!.amplitudeUncertainty).toBeCloseTo(2 * 1.15 * Math.hypot(0.04, 0.04 / 1.15), 12)
    expect(weak.drifts[1]!.angleUncertainty_rad).toBeCloseTo(2 * Math.hypot(0.04, 0.04 / 1.15), 12)
    expect(weak.passed).toBe(true)
    const alarm = { ...noisy, named: 'B' }
    expect(
      compareRecheck(alarm, with_([reading('A', { x: 0, y: 2 }), reading('B', { x: 0, y: 1.15 }, 0.04)]), allowance)
        .passed
    ).toBe(false)
  })

  it('is exceeded when a notch is gone', () => {
    const { passed, drifts } = compareRecheck(then, with_([reading('A', { x: 0, y: 2 })]), allowance)
    expect(passed).toBe(false)
    expect(drifts[1]).toMatchObject({ notch: 'B', amplitude: -1, verdict: 'exceeded' })
  })

  it('is taken in the plane of the first: what the second standardization turned and scaled is turned and scaled back', () => {
    // the same recorded signal, standardized by another factor: 1.3 times, 25° more
    const [c, s] = [1.3 * Math.cos(25 * DEG), 1.3 * Math.sin(25 * DEG)]
    const other = (x: number, y: number) => ({ x: c * x - s * y, y: s * x + c * y })
    const now = with_([reading('A', other(0, 2)), reading('B', other(0, 1))], { x: c, y: s })
    const { passed, drifts } = compareRecheck(then, now, allowance)
    expect(passed).toBe(true)
    for (const { amplitude, angle_rad } of drifts) {
      expect(amplitude).toBeCloseTo(0, 12)
      expect(angle_rad).toBeCloseTo(0, 12)
    }
  })

  it('passes an answer that is too strong only where the technique merely notes a gain of sensitivity', () => {
    const now = with_([reading('A', { x: 0, y: 2.6 }), reading('B', { x: 0, y: 1.3 })])
    expect(compareRecheck(then, now, allowance).passed).toBe(false)
    const noted = { ...allowance, gain_of_sensitivity: 'is noted' as const }
    expect(compareRecheck(then, now, noted)).toMatchObject({ passed: true, drifts: [{ verdict: 'met' }, {}] })
    expect(compareRecheck(now, then, noted).passed).toBe(false)
  })

  it('fails where two notches have changed places, though neither has moved too far', () => {
    const near = with_([reading('A', { x: 0, y: 1.04 }), reading('B', { x: 0, y: 1 })])
    const crossed = [reading('A', { x: 0, y: 0.98 }), reading('B', { x: 0, y: 1.05 })]
    const result = compareRecheck(near, with_(crossed), allowance)
    expect(result.drifts.map(({ verdict }) => verdict)).toEqual(['met', 'met'])
    expect(result).toMatchObject({ passed: false, reversed: [['A', 'B']] })
  })

  it('leaves the order open where the noise explains it', () => {
    const noisy = (a: number, b: number) =>
      with_([reading('A', { x: 0, y: a }, 0.03), reading('B', { x: 0, y: b }, 0.03)])
    // 2 · 0.03 · √2 is more than the differences of 0.04 and 0.07
    expect(compareRecheck(noisy(1.04, 1), noisy(0.98, 1.05), allowance).reversed).toEqual([])
  })

  it('fails by the noise of the wall where the technique allows it no such growth, in the plane of the first', () => {
    const louder = { ...then, noise: { ...then.noise, matched: 1.3 * then.noise.matched } }
    expect(compareRecheck(then, louder, allowance)).toMatchObject({ passed: true, noise: { met: true } })
    const result = compareRecheck(then, louder, { ...allowance, noise: 0.25 })
    expect(result).toMatchObject({ passed: false, noise: { met: false } })
    expect(result.noise.growth).toBeCloseTo(0.3, 12)
    // the same noise, written down by a standardization that multiplies by 1.3
    const scaled = { ...with_([reading('A', { x: 0, y: 2.6 }), reading('B', { x: 0, y: 1.3 })], { x: 1.3, y: 0 }) }
    const same = { ...scaled, noise: louder.noise }
    expect(compareRecheck(then, same, { ...allowance, noise: 0.25 }).noise.growth).toBeCloseTo(0, 12)
  })
})
