/** Oracles: the likelihood maximized by SciPy, and spans by scipy.spatial.distance (reference/rotation.py). */
import { randomFrom } from '@trueloop/ground/numerics'
import { isRefusal } from '@trueloop/ground/refusal'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { UNIT } from '../signal/index.ts'
import { longestChord } from './loop.kernel.ts'
import reference from './reference/rotation.json' with { type: 'json' }
import { clearOf, clearPoints, liftOffAxis } from './rotation.ts'
import { standard } from './testing/scene.ts'
import type { Wall } from './wall.ts'

/** A wall that is nothing but its motion. */
function wallOf(length: number, at: (i: number) => readonly [number, number], first = 0): Wall {
  const points = Array.from({ length }, (_, i) => at(i))
  const none = new Float64Array(length)
  const restX = Float64Array.from(points, ([x]) => x)
  const restY = Float64Array.from(points, ([, y]) => y)
  return { first, length, x: none, y: none, meanX: none, meanY: none, restX, restY }
}

const everywhere = (wall: Wall) => new Uint8Array(wall.length).fill(1)
const random = () => randomFrom('rotation test')

const cloudPoint = (i: number): readonly [number, number] => {
  if (i % 50 === 0) return [9, -4]
  const u = ((7 * i * i + 3 * i) % 101) / 101 - 0.5 + ((13 * i * i + i) % 103) / 103 - 0.5
  const v = 0.25 * (((5 * i * i + 11 * i) % 97) / 97 - 0.5)
  const [c, s] = [Math.cos((40 * Math.PI) / 180), Math.sin((40 * Math.PI) / 180)]
  return [u * c - v * s, u * s + v * c]
}

describe('liftOffAxis', () => {
  it('is the axis of greatest likelihood, outliers and all', () => {
    const wall = wallOf(4000, cloudPoint)
    const found = liftOffAxis(wall, everywhere(wall), random())
    if (isRefusal(found)) throw new Error(found.found)
    expect(Math.abs(found.axis_rad - reference.axis_rad)).toBeLessThan(reference.tolerance)
    expect(Math.abs(found.axisRatio / reference.axisRatio - 1)).toBeLessThan(reference.tolerance)
    expect(found.points).toBe(4000)
  })

  it('uses the clear points alone', () => {
    const wall = wallOf(8000, (i) => (i < 4000 ? cloudPoint(i) : [0.1 * i, -i]))
    const free = everywhere(wall).fill(0, 4000)
    const found = liftOffAxis(wall, free, random())
    if (isRefusal(found)) throw new Error(found.found)
    expect(Math.abs(found.axis_rad - reference.axis_rad)).toBeLessThan(reference.tolerance)
  })

  /** Every revolution moves along its own direction: what differs between revolutions is what the bootstrap sees. */
  const fan = (spread_deg: number, revolutions: number) => {
    const directions = randomFrom(`fan ${spread_deg}`)
    const turns = Array.from({ length: revolutions }, () => (spread_deg * directions.normal() * Math.PI) / 180)
    const noise = randomFrom('points')
    return wallOf(revolutions * UNIT, (i) => {
      const angle = 0.3 + turns[Math.floor(i / UNIT)]!
      const [u, v] = [noise.normal(), 0.1 * noise.normal()]
      return [u * Math.cos(angle) - v * Math.sin(angle), u * Math.sin(angle) + v * Math.cos(angle)]
    })
  }

  it('has an uncertainty as theory has it for revolutions that differ', () => {
    const wall = fan(5, 40)
    const found = liftOffAxis(wall, everywhere(wall), random())
    if (isRefusal(found)) throw new Error(found.found)
    // the mean of 40 directions of 5°: 0.79°; a bootstrap of 200 rounds over 40 knows that to about 15 %
    const deg = (found.uncertainty_rad * 180) / Math.PI
    expect(deg).toBeGreaterThan(0.79 * 0.6)
    expect(deg).toBeLessThan(0.79 * 1.5)
  })

  it('standardize/rotation-uncertain above 3°', () => {
    const wall = fan(14, 7)
    expect(liftOffAxis(wall, everywhere(wall), random())).toMatchObject({ code: 'standardize/rotation-uncertain' })
  })

  it('standardize/rotation-undetermined below an axis ratio of 2', () => {
    const noise = randomFrom('round')
    const cloud = (ratio: number) => wallOf(20 * UNIT, () => [ratio * noise.normal(), noise.normal()])
    expect(liftOffAxis(cloud(1.9), everywhere(cloud(1)), random())).toMatchObject({
      code: 'standardize/rotation-undetermined'
    })
    expect(isRefusal(liftOffAxis(cloud(2.1), everywhere(cloud(1)), random()))).toBe(false)
    const line = wallOf(20 * UNIT, (i) => [i % 7, 0])
    expect(liftOffAxis(line, everywhere(line), random())).toMatchObject({ code: 'standardize/rotation-undetermined' })
  })

  it('standardize/too-little-wall below 400 points or 6 revolutions', () => {
    const wall = wallOf(20 * UNIT, cloudPoint)
    const part = (to: number) => everywhere(wall).fill(0, to)
    expect(liftOffAxis(wall, part(5 * UNIT), random())).toMatchObject({ code: 'standardize/too-little-wall' })
    const few = everywhere(wall).map((_, i) => (i % 60 === 0 ? 1 : 0))
    expect(liftOffAxis(wall, few, random())).toMatchObject({ code: 'standardize/too-little-wall' })
  })
})

describe('clearPoints', () => {
  const wall = wallOf(40 * UNIT, () => [0, 0], UNIT / 2)
  // 4 mm before the entry face to 6 mm behind the exit face, 0.5 mm a revolution
  const scale = { entry: 8 * UNIT, metresPerPoint: 0.5e-3 / UNIT }
  const free = clearPoints(wall, scale, standard, clearOf(1.3e-3))

  it('are those of the definition, point by point', () => {
    const slow = Array.from({ length: wall.length }, (_, i) => {
      const point = wall.first + i
      const z = ((point - 8 * UNIT) * 0.5) / UNIT
      const angle = ((point % UNIT) * 360) / UNIT
      const faces = z >= 1.5 && z <= 10 - 1.5
      const beside = standard.notches.some(({ angle_deg, z0_mm, z1_mm }) => {
        const off = Math.abs(angle - angle_deg) % 360
        return z > z0_mm - 2.3 && z < z1_mm + 2.3 && Math.min(off, 360 - off) < 45
      })
      return faces && !beside ? 1 : 0
    })
    expect(Array.from(free)).toEqual(slow)
    expect(free.filter((one) => one === 1).length).toBeGreaterThan(1000)
  })
})

describe('longestChord', () => {
  const x = Float64Array.from({ length: 150 }, (_, k) => ((7 * k * k + 3 * k) % 101) / 101 - 0.5 + 0.02 * k)
  const y = Float64Array.from({ length: 150 }, (_, k) => ((5 * k * k + 11 * k) % 97) / 97 - 0.5)

  it.each(reference.chords)(
    'between $from and $to is the largest distance of SciPy',
    ({ from, to, length, earlier, later }) => {
      const chord = longestChord(x, y, { from, to })
      expect(Math.abs(chord.length - length)).toBeLessThan(1e-14)
      expect(chord).toMatchObject({ earlier, later, x: x[later]! - x[earlier]!, y: y[later]! - y[earlier]! })
    }
  )

  it('does not depend on turning and shifting the plane', () => {
    const before = longestChord(x, y, { from: 0, to: 150 })
    fc.assert(
      fc.property(fc.double({ min: 0, max: 6.3, noNaN: true }), fc.integer({ min: -50, max: 50 }), (angle, shift) => {
        const [c, s] = [Math.cos(angle), Math.sin(angle)]
        const turned = longestChord(
          x.map((v, i) => c * v - s * y[i]! + shift),
          y.map((v, i) => s * x[i]! + c * v - shift),
          { from: 0, to: 150 }
        )
        expect(turned.length).toBeCloseTo(before.length, 11)
        expect([turned.earlier, turned.later]).toEqual([before.earlier, before.later])
        expect(turned.x).toBeCloseTo(c * before.x - s * before.y, 11)
      }),
      { numRuns: 20 }
    )
  })

  it('of one point is none', () => {
    expect(longestChord(x, y, { from: 4, to: 5 })).toEqual({ length: 0, x: 0, y: 0, earlier: 4, later: 4 })
  })
})
