import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { depthAxis, rulerOf } from './depth-axis.ts'
import { elementAt, farthest, parseWall, traceAround, type WallSignal } from './wall.ts'

/** Oracles: a wall whose every value says where it lies; for the amplitude, the diameter of a circle. */

const columns = 128
const spiral = (rows: number, rowFrom: number): WallSignal => {
  const at = Float32Array.from({ length: rows * columns }, (_, i) => rowFrom + i / columns)
  return { rows, columns, rowFrom, x: at, y: at.map((value) => -value) }
}

const bytesOf = ({ rows, rowFrom, x, y }: WallSignal, form = 'wall/1'): ArrayBuffer => {
  const buffer = new ArrayBuffer(256 + 4 * (x.length + y.length))
  const head = new TextEncoder().encode(JSON.stringify({ form, rows, columns, rowFrom }))
  new Uint8Array(buffer).fill(0x20, 0, 256)
  new Uint8Array(buffer).set(head)
  new Float32Array(buffer, 256).set([...x, ...y])
  return buffer
}

describe('a wall', () => {
  it('is read from its form, and from no other', () => {
    const wall = spiral(5, 7)
    expect(parseWall(bytesOf(wall))).toEqual(wall)
    expect(() => parseWall(bytesOf(wall, 'wall/2'))).toThrow('not a wall')
    expect(() => parseWall(bytesOf(wall).slice(0, -4))).toThrow()
  })

  it('gives the element nearest to a place of the ruler', () => {
    const wall = spiral(6, 3)
    fc.assert(
      fc.property(fc.double({ min: 3, max: 8.99, noNaN: true }), (ruler) => {
        expect(Math.abs(wall.x[elementAt(wall, ruler)!]! - ruler)).toBeLessThanOrEqual(0.5 / columns + 1e-6)
      })
    )
    for (const beyond of [2.9, 9.1, -1]) expect(elementAt(wall, beyond)).toBeUndefined()
  })

  it('gives what lies around a place, cut at its ends', () => {
    const wall = spiral(4, 0)
    expect([...traceAround(wall, 2, 2).x]).toEqual([-2, -1, 0, 1, 2].map((i) => Math.fround(2 + i / columns)))
    expect(traceAround(wall, 0, 3).x).toHaveLength(4)
    expect(traceAround(wall, 9, 3).x).toHaveLength(0)
  })
})

it('the amplitude of a loop is the distance of its farthest points', () => {
  const circle = Array.from({ length: 64 }, (_, i) => (i / 64) * 2 * Math.PI)
  const x = Float32Array.from(circle, (angle) => 3 + 0.4 * Math.cos(angle))
  const y = Float32Array.from(circle, (angle) => 0.4 * Math.sin(angle))
  expect(farthest({ x, y }).distance).toBeCloseTo(0.8, 6)
  expect(farthest({ x: new Float32Array(1), y: new Float32Array(1) }).distance).toBe(0)
})

describe('the depth axis', () => {
  const wall = spiral(60, 2)
  const placed = { axial: '', axialUncertainty_m: 0, angle: 'clock', entry: 10, exit: 50, pitch_m: 2e-4 } as const

  it('counts from the entry face where faces and feed are known', () => {
    const axis = depthAxis(wall, placed, 8e-3)
    expect(axis.unit).toBe('m')
    expect(axis.rulerAt(0)).toBe(10)
    expect(axis.valueAt(50)).toBeCloseTo(8e-3, 12)
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 8e-3, noNaN: true }),
        fc.double({ min: -1, max: 2, noNaN: true }),
        (depth, turn) => {
          const ruler = rulerOf(axis, { turn, depth })
          expect(Math.abs(axis.valueAt(ruler) - depth)).toBeLessThanOrEqual(1e-4 + 1e-12)
          expect(ruler - turn - Math.round(ruler - turn)).toBeCloseTo(0, 9)
        }
      )
    )
  })

  it('counts revolutions where they are not', () => {
    const axis = depthAxis(wall, { axial: '', axialUncertainty_m: 'unknown', angle: 'unknown' }, 8e-3)
    expect([axis.unit, axis.from, axis.to, axis.rulerAt(5)]).toEqual(['revolution', 2, 62, 5])
    expect(depthAxis(wall, placed, undefined).unit).toBe('revolution')
  })
})
