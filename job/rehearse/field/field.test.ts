/**
 * Oracles: cubics that the interpolation has to reproduce; the crack model itself between the points of a table; the
 * published double maximum of a split pair over a mid-bore crack (split-d-2011); one unit for the unit notch.
 */
import { meters, radians } from '@trueloop/ground/quantity'
import { isRefusal } from '@trueloop/ground/refusal'
import { planWallCrack, wallPairAnswer } from '@trueloop/metal/fields'
import { describe, expect, it } from 'vitest'
import { plain } from '../demo-scene.ts'
import { generate } from '../generate.ts'
import type { HoleScene } from '../scene.ts'
import { lookUp } from './look-up.kernel.ts'
import { pairProbeOf } from './pair.ts'
import type { FieldFlaw, FieldProbe } from './probe.ts'
import { notReady } from './ready.ts'
import { metalOf, placedOf, type ResponseTable, responseTable } from './table.ts'
import { memoryShelf } from './tables.ts'

const DIAMETER = 4.8e-3
const unit: FieldFlaw = { outline: 'half ellipse', depth_m: 0.6e-3, length_m: 1.4e-3 }
const field: FieldProbe = {
  frequency_Hz: 400e3,
  metal: { conductivity_S_per_m: 17.4e6, permeability: 1 },
  driver: { inner_m: 0.7e-3, outer_m: 1e-3, length_m: 0.6e-3, turns: 80, lift_off_m: 0.1e-3 },
  pickUps: { inner_m: 0.4e-3, outer_m: 0.65e-3, length_m: 0.6e-3, turns: 60, lift_off_m: 0.1e-3 },
  unit
}
const shelf = memoryShelf()

function made(flaw: FieldFlaw): ResponseTable {
  const table = responseTable(field, DIAMETER, flaw)
  if (isRefusal(table)) throw new Error(table.found)
  return table
}

const sizeAt = (table: ResponseTable, row: number, column: number): number =>
  Math.hypot(table.re[row * table.along.count + column]!, table.im[row * table.along.count + column]!)

describe('the look-up', () => {
  const at = (u: number, v: number) => u * (2 - 0.5 * v * v)
  const grid = { around: { count: 9, step_m: 0.5 }, along: { count: 9, step_m: 0.25, first_m: 0 }, isAlike: true }
  const values = Float64Array.from({ length: 81 }, (_, k) => at(0.5 * Math.floor(k / 9), 0.25 * (k % 9)))
  const table = { ...grid, re: values, im: values.map((value) => -2 * value) }
  const to = { re: 0, im: 0 }

  it('reproduces what is linear around and of second degree along, odd around and even along', () => {
    for (const [u, v] of [
      [0.1, 0.05],
      [1.3, 0.9],
      [2.71, 1.2]
    ] as const)
      for (const [su, sv] of [
        [1, 1],
        [-1, 1],
        [1, -1],
        [-1, -1]
      ] as const) {
        lookUp(table, su * u, sv * v, to)
        expect(to.re).toBeCloseTo(-su * at(u, v), 12)
        expect(to.im).toBeCloseTo(2 * su * at(u, v), 12)
      }
  })

  it('is nothing beyond the grid', () => {
    lookUp(table, 4.1, 0.2, to)
    expect(to).toEqual({ re: 0, im: 0 })
    lookUp(table, 0.2, -2.1, to)
    expect(to).toEqual({ re: 0, im: 0 })
  })
})

describe('a table', () => {
  it('between its points is the model itself, to a hundredth of its largest value', () => {
    for (const outline of ['half ellipse', 'quarter ellipse'] as const) {
      const flaw = { ...unit, outline }
      const table = made(flaw)
      const plan = planWallCrack({
        crack: { outline, length: meters(flaw.length_m), depth: meters(flaw.depth_m), opening: meters(0) },
        ...{ metal: metalOf(field), frequency: 400e3 as never, holeDiameter: meters(DIAMETER) },
        cells: { along: 28, deep: 12 }
      })
      if (isRefusal(plan)) throw new Error(plan.found)
      const places = [
        [-0.31e-3, 0.43e-3],
        [0.52e-3, -0.77e-3],
        [-0.93e-3, -1.11e-3]
      ] as const
      const answer = wallPairAnswer(
        plan,
        { driver: placedOf(field.driver), pickUps: { ...placedOf(field.pickUps), turned: radians(0) } },
        places.map(([arc, along]) => ({ angle: radians((2 * arc) / DIAMETER), along: meters(along) }))
      )
      if (isRefusal(answer)) throw new Error(answer.found)
      const most = Math.max(...table.re.map((re, at) => Math.hypot(re, table.im[at]!)))
      const value = { re: 0, im: 0 }
      for (const [k, [arc, along]] of places.entries()) {
        lookUp(table, arc, along, value)
        const { resistance, reactance } = answer.signals[k]!.change
        expect(Math.hypot(value.re - resistance, value.im - reactance) / most).toBeLessThan(0.02)
      }
    }
  })

  it('has two maxima along a short mid-bore crack, before and behind its middle', () => {
    const table = made({ ...unit, length_m: 0.8e-3, depth_m: 0.4e-3 })
    const rows = Array.from({ length: table.along.count }, (_, column) =>
      Math.max(...Array.from({ length: table.around.count }, (_, row) => sizeAt(table, row, column)))
    )
    const best = rows.indexOf(Math.max(...rows))
    expect(best).toBeGreaterThan(2)
    expect(rows[0]!).toBeLessThan(0.8 * rows[best]!)
  })
})

describe('the pair of a scene', () => {
  const probe = pairProbeOf(field, DIAMETER, { law: plain.probe, shelf })
  if (isRefusal(probe)) throw new Error(probe.found)
  const still: HoleScene = {
    ...plain,
    probe: { ...probe, imbalance: 0 },
    hole: { ...plain.hole, diameter_m: DIAMETER, grip_m: 8e-3 },
    wall: {
      ...plain.wall,
      ...{ eccentricity_m: 0, ovality_m: 0 },
      roughness: { ...plain.wall.roughness, rms_m: 0 },
      wobble: { ...plain.wall.wobble, rms_m: 0 }
    },
    motion: { ...plain.motion, feed: { kind: 'constant', pitch_m: 0.05e-3, leadIn_turn: 2, leadOut_turn: 2 } },
    instrument: { gain: 1, rotation_rad: 0, offset: { x: 0, y: 0 } },
    disturbances: { ...plain.disturbances, hum: { ...plain.disturbances.hum, size: 0 } },
    noise: { ...plain.noise, inTime: false, wall: { ...plain.noise.wall, rms: 0 } }
  }
  const notch = {
    ...({ kind: 'notch', angle_turn: 0.4, z0_m: 3.3e-3, z1_m: 4.7e-3 } as const),
    ...{ depth_m: unit.depth_m, length_m: unit.length_m }
  }
  /** Middle of the hole, where no face is seen. */
  const middle = (scene: HoleScene) => {
    const { x, y } = generate(scene, 1, shelf)
    const [from, to] = [Math.floor(0.3 * x.length), Math.floor(0.7 * x.length)]
    return { x: x.subarray(from, to), y: y.subarray(from, to) }
  }
  const farthest = ({ x, y }: { x: Float64Array; y: Float64Array }): number => {
    let most = 0
    const far = [...x.keys()].filter((k) => Math.hypot(x[k]!, y[k]!) > 0.3)
    for (const a of far) for (const b of far) most = Math.max(most, Math.hypot(x[a]! - x[b]!, y[a]! - y[b]!))
    return most
  }

  it('gives the unit notch a peak-to-peak of one, whatever the sense of rotation', () => {
    for (const sense of [1, -1] as const) {
      const scene = { ...still, flaws: [notch], motion: { ...still.motion, sense } }
      expect(farthest(middle(scene))).toBeCloseTo(1, 1)
    }
  })

  it('is silent over a sound wall, and moves along x where the wall moves off', () => {
    const quiet = middle(still)
    expect(Math.max(...quiet.x.map(Math.abs), ...quiet.y.map(Math.abs))).toBeLessThan(1e-9)
    const oval = middle({ ...still, wall: { ...still.wall, ovality_m: 20e-6 } })
    expect(Math.max(...oval.x)).toBeGreaterThan(0.05)
    expect(Math.max(...oval.y.map(Math.abs))).toBeLessThan(1e-9)
  })

  it('meets air far beyond a notch, near the direction of lift-off', () => {
    expect(probe.air.size).toBeGreaterThan(3)
    expect(Math.abs(probe.air.direction_rad)).toBeGreaterThan(Math.PI - 0.5)
  })

  it('says beforehand where the field has no answer', () => {
    const deep = { ...notch, depth_m: 2.6e-3 }
    const found = notReady({ ...still, flaws: [deep] }, shelf)
    expect(found?.code).toBe('fields/wall-too-round')
    expect(() => generate({ ...still, flaws: [deep] }, 1, shelf)).toThrow(RangeError)
    expect(notReady({ ...still, flaws: [notch] }, shelf)).toBeUndefined()
  })
})
