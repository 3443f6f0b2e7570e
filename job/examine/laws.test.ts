import fc from 'fast-check'
import { beforeAll, describe, expect, it } from 'vitest'
import { generate, type HoleScene } from '../rehearse/index.ts'
import type { Standardization } from '../standardize/index.ts'
import type { Examination } from './index.ts'
import { DEG, examine, type Recorded, sceneOf, standard, standardizationFrom } from './testing/hole.ts'
import { differenceOf, type Move, moved } from './testing/moved.ts'

/**
 * A recording that is an exact function of turns: even speed, no noise in time, flanks of the index that straight lines
 * meet exactly, air before and after. `shift` turns later comes the index; the wall and all else stay.
 */
function exact(name: string, shift = 0): Recorded {
  const scene: HoleScene = sceneOf(name)
  return generate(
    {
      ...scene,
      motion: {
        ...scene.motion,
        drift: [],
        feed: { kind: 'constant', pitch_m: 2e-4, leadIn_turn: 20, leadOut_turn: 20 }
      },
      recorder: {
        ...scene.recorder,
        rate_Hz: 10_240,
        index: { ...scene.recorder.index, first_turn: 0.42 + shift, datum_turn: shift, rise_turn: 0.01 }
      },
      noise: { ...scene.noise, inTime: false },
      disturbances: { ...scene.disturbances, hum: { ...scene.disturbances.hum, size: 0 } }
    },
    4
  )
}

/** The certificate's angles as the person states them when the index comes `shift` turns later. */
const certificate = (shift: number) => ({
  standard: { notches: standard.notches.map((notch) => ({ ...notch, angle_deg: notch.angle_deg - 360 * shift })) }
})

const holes = ['hole-P02', 'hole-P04', 'hole-P10'] as const

const RELATIVE = 1e-9

const standsOut = ({ signalToNoise }: Examination['indications'][number]) => signalToNoise > 6

/** Relative 1e-9 on amplitude, phase and angle (of a turn), depth (of the grip). */
function expectSame(a: Examination, b: Examination, shift = 0): void {
  expect(a.indications.length).toBe(b.indications.length)
  expect(a.indications.length).toBeGreaterThan(0)
  a.indications.forEach((one, i) => {
    const other = b.indications[i]!
    const angle_rad = one.angle_rad === 'unknown' ? one.angle_rad : one.angle_rad + 2 * Math.PI * shift
    const off = differenceOf({ ...one, angle_rad }, other)
    expect(off.amplitude).toBeLessThan(RELATIVE)
    expect(off.phase_rad).toBeLessThan(RELATIVE * Math.PI)
    expect(off.angle_rad).toBeLessThan(RELATIVE * 2 * Math.PI)
    expect(off.z_m).toBeLessThan(RELATIVE * 8.1e-3)
    expect(one.class).toBe(other.class)
    expect(one.zone).toBe(other.zone)
  })
}

describe('exact laws', () => {
  let reference: Recorded
  let standardization: Standardization
  const parts = new Map<string, Recorded>()
  const before = new Map<string, Examination>()

  beforeAll(() => {
    reference = exact('reference-start')
    standardization = standardizationFrom(reference)
    for (const name of holes) {
      const recorded = exact(name)
      parts.set(name, recorded)
      before.set(name, examine(recorded, { standardization }).examination)
    }
  })

  it('rotation, gain and offset of the recorded plane, moved in reference and part together', () => {
    const moves = fc.record<Move>({
      gain: fc.double({ min: 0.01, max: 50, noNaN: true }),
      turn_rad: fc.double({ min: -Math.PI, max: Math.PI, noNaN: true }),
      x: fc.double({ min: -100, max: 100, noNaN: true }),
      y: fc.double({ min: -100, max: 100, noNaN: true })
    })
    fc.assert(
      fc.property(moves, fc.constantFrom(...holes), (move, name) => {
        const { examination } = examine(moved(parts.get(name)!, move), {
          standardization: standardizationFrom(moved(reference, move))
        })
        expectSame(before.get(name)!, examination)
      }),
      { numRuns: 6, seed: 20_260_302 }
    )
  })

  // the index comes k points of the ruler later, the wall stays: every angle is k points less. The wall is scanned at every
  // fourth point of the ruler: what is a whole number of those changes nothing
  it.each([4, 28, 100, 256])('start angle of the part moved by %i × 360°/512', (k) => {
    for (const name of holes) {
      const { examination } = examine(exact(name, k / 512), { standardization })
      expectSame(examination, before.get(name)!, k / 512)
    }
  })

  it.each([12, 64])('start angle of reference and part moved by %i × 360°/512', (k) => {
    const both = standardizationFrom(exact('reference-start', k / 512), certificate(k / 512))
    for (const name of holes) {
      const { examination } = examine(exact(name, k / 512), { standardization: both })
      expectSame(examination, before.get(name)!, k / 512)
    }
  })

  it.each([0.31, 0.5, 1, 7, 100.77, 255])('any other start angle, %d points: ± 1 percent and ± 1°', (points) => {
    const shift = points / 512
    const both = standardizationFrom(exact('reference-start', shift), certificate(shift))
    for (const name of holes) {
      for (const used of [standardization, both]) {
        const { indications } = examine(exact(name, shift), { standardization: used }).examination
        // what stands just at the threshold may come or go; what stands out is there again
        const all = before.get(name)!.indications
        expect(all.length).toBeGreaterThan(0)
        expect(indications.filter(standsOut)).toHaveLength(all.filter(standsOut).length)
        all.filter(standsOut).forEach((one, i) => {
          const other = indications.filter(standsOut)[i]!
          const angle_rad = other.angle_rad === 'unknown' ? other.angle_rad : other.angle_rad + 2 * Math.PI * shift
          const off = differenceOf({ ...other, angle_rad }, one)
          expect(off.amplitude).toBeLessThan(0.01)
          expect(off.phase_rad).toBeLessThan(DEG)
          expect(off.angle_rad).toBeLessThan(DEG)
          expect(off.z_m).toBeLessThan(1e-4)
        })
      }
    }
  })
})
