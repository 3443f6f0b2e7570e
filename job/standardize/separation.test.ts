/**
 * Oracles: angles and noise that the test chose, worked by hand; the directions that a scene was generated with.
 */
import { randomFrom } from '@trueloop/ground/numerics'
import { describe, expect, it } from 'vitest'
import { isClearOfLiftOff } from './index.ts'
import { senseOf } from './rotation.ts'
import { fromLiftOff, separationLimit, separationNotes } from './separation.ts'
import type { NotchReading } from './standardization.ts'
import { changed, inOne, recorded, refusedBy, scene, soundly, standard, technique, truth } from './testing/scene.ts'

const DEG = Math.PI / 180

/** Pairs with a deviation of `along` in a direction and `across` beside it. */
function noiseOf(direction: number, along: number, across: number) {
  const random = randomFrom('separation')
  const x = new Float64Array(40_000)
  const y = new Float64Array(40_000)
  for (let i = 0; i < x.length; i++) {
    const [u, v] = [along * random.normal(), across * random.normal()]
    x[i] = u * Math.cos(direction) - v * Math.sin(direction)
    y[i] = u * Math.sin(direction) + v * Math.cos(direction)
  }
  return { x, y }
}

describe('the angle from lift-off', () => {
  it.each([80, 30, 130, -100, 200])('of a notch at %i° is that of lines, known across the notch', (deg) => {
    const fitted = { x: 2 * Math.cos(deg * DEG), y: 2 * Math.sin(deg * DEG) }
    const is = fromLiftOff(fitted, noiseOf(deg * DEG, 0.9, 0.04), { uncertainty_rad: 0.015 })
    const line = Math.min(((deg % 180) + 180) % 180, 180 - (((deg % 180) + 180) % 180))
    expect(is.angle_rad / DEG).toBeCloseTo(line, 9)
    // 0.04 over a size of 2 is 0.02; with 0.015 that is 0.025. 40 000 pairs know a median deviation to 0.6 %
    expect(Math.abs(is.repeatability_rad / 0.025 - 1)).toBeLessThan(0.02)
    expect(is.needed_rad).toBeCloseTo(3 * is.repeatability_rad, 12)
  })

  it('has to reach what the technique states, where that is more', () => {
    const noise = noiseOf(1, 0.1, 0.02)
    const needed = (least_deg?: number) =>
      fromLiftOff({ x: 0.6, y: 0.8 }, noise, { uncertainty_rad: 0, least_deg }).needed_rad / DEG
    expect(needed(30)).toBeCloseTo(30, 12)
    expect(needed(0.1)).toBe(needed())
  })
})

const reading = (angle: number, repeatability: number): NotchReading =>
  ({
    id: 'N',
    fromLiftOff: { angle_rad: angle, repeatability_rad: repeatability, needed_rad: 3 * repeatability }
  }) as NotchReading

describe('a notch', () => {
  it('is clear of lift-off from three times the repeatability on, itself enough', () => {
    expect(isClearOfLiftOff(reading(0.75, 0.25))).toBe(true)
    expect(isClearOfLiftOff(reading(0.74, 0.25))).toBe(false)
    expect(isClearOfLiftOff({})).toBe(true)
  })

  it('that is not is named in a note, and withheld from sizing', () => {
    expect(separationNotes([reading(1, 0.1), reading(0.2, 0.1)])).toEqual([
      'N is not used for sizing: its angle from lift-off is 11.5°, known to 5.7°; needed 17.2° or more: three times the repeatability of the angle'
    ])
  })

  it('has a limit that says who asks', () => {
    const is = { angle_rad: 0.5, repeatability_rad: 0.1, needed_rad: 0.6 }
    expect(separationLimit(is)).toMatchObject({ met: false, needed: '34.4° or more: the technique states it' })
  })
})

describe('a reference scan', () => {
  const alone = { ...standard, notches: standard.notches.slice(1, 2) }
  const at = (degrees: number) =>
    changed({
      flaws: scene.flaws.slice(1, 2),
      probe: { flaw: { ...scene.probe.flaw, direction_rad: truth.liftoff_rad + degrees * DEG } }
    })
  const scanned = (degrees: number) => ({ segments: inOne(recorded(at(degrees))), standard: alone })

  it.each([-95, -40, 25])('with notches at %i° to lift-off finds that angle, whatever it is', (degrees) => {
    const { angle_rad, repeatability_rad } = soundly(scanned(degrees)).standardization.notches[0]!.fromLiftOff!
    expect(Math.abs(angle_rad / DEG - Math.min(Math.abs(degrees), 180 - Math.abs(degrees)))).toBeLessThan(
      (3 * repeatability_rad) / DEG
    )
    expect(repeatability_rad / DEG).toBeLessThan(6)
  })

  it('standardize/notch-along-lift-off where the notch lies along it', () => {
    const refusal = refusedBy(scanned(1))
    expect(refusal.code).toBe('standardize/notch-along-lift-off')
    expect(refusal.needed).toContain('three times the repeatability of the angle')
  })

  it('standardize/notch-along-lift-off below the least angle of the technique', () => {
    const stated = (min_separation_deg: number) => ({
      ...scanned(-40),
      technique: { ...technique, min_separation_deg }
    })
    expect(refusedBy(stated(55))).toMatchObject({
      code: 'standardize/notch-along-lift-off',
      needed: '55.0° or more: the technique states it'
    })
    expect(soundly(stated(30)).standardization.notches).toHaveLength(1)
  })
})

describe('the sense of lift-off', () => {
  const rotation = { axis_rad: 0.5, uncertainty_rad: 0.01, axisRatio: 5, points: 1000 }
  const step = (angle: number) => ({ x: 4 * Math.cos(0.5 + angle), y: 4 * Math.sin(0.5 + angle) })

  it('is told by the step to air, at any angle but across', () => {
    expect([0, 1.2, -1.5].map((angle) => senseOf(rotation, step(angle)))).toEqual([-1, -1, -1])
    expect([3.1, 2, -1.65].map((angle) => senseOf(rotation, step(angle)))).toEqual([1, 1, 1])
  })

  it('standardize/rotation-uncertain across it', () => {
    for (const angle of [Math.PI / 2, Math.PI / 2 + 0.029, -Math.PI / 2 + 0.029])
      expect(senseOf(rotation, step(angle))).toMatchObject({ code: 'standardize/rotation-uncertain' })
    expect(
      refusedBy({
        segments: inOne(
          recorded(changed({ probe: { air: { size: 12, direction_rad: truth.liftoff_rad + Math.PI / 2 } } }))
        )
      }).code
    ).toBe('standardize/rotation-uncertain')
  })
})
