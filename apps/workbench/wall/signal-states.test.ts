import { expect, it } from 'vitest'
import { conditioned, recorded, standardized, unturned } from './signal-states.ts'

/** Oracle: the rule of the record itself, standardized = conditioned × turn (complex), worked out by hand. */

const turn = { x: 0.6, y: -0.8 }
const wall = (x: readonly number[], y: readonly number[]) => ({
  ...{ rows: 1, columns: x.length, rowFrom: 0, x: Float32Array.from(x), y: Float32Array.from(y) }
})

it('takes a standardized signal back to what was conditioned', () => {
  // (2 + 3i)(0.6 − 0.8i) = 3.6 + 0.2i
  expect(unturned(turn, 3.6, 0.2)).toEqual([expect.closeTo(2, 12), expect.closeTo(3, 12)])
  const back = conditioned(wall([3.6, 0], [0.2, Number.NaN]), { x: 1.2, y: -1.6 })
  expect([...back.wall.x].slice(0, 1)).toEqual([1])
  expect(back.wall.y[0]).toBeCloseTo(1.5, 6)
  expect(back.wall.y[1]).toBeNaN()
  expect([back.unit, back.scale]).toEqual(['recorded', 0.25])
  // (x + iy)(1.2 − 1.6i) = −2 for a length of 1: x + iy = −(1.2 + 1.6i) / 2
  expect(back.liftOff).toEqual({ x: expect.closeTo(-0.6, 12), y: expect.closeTo(-0.8, 12) })
})

it('shows what was recorded about its middle level, and leaves the signal as it is', () => {
  const placed = wall([5, 7, 6, Number.NaN], [1, 1, 1, Number.NaN])
  const shown = recorded(placed, turn)
  expect([...shown.wall.x].slice(0, 3)).toEqual([-1, 1, 0])
  expect([...shown.wall.y].slice(0, 3)).toEqual([0, 0, 0])
  expect([...placed.x].slice(0, 3)).toEqual([5, 7, 6])
  expect(standardized(placed).wall).toBe(placed)
})
