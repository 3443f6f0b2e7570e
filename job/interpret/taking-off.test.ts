/** Oracles: walls that the test painted with one flaw and with two; what is left of the two is the one. */
import { describe, expect, it } from 'vitest'
import { weighingOf } from './cone.ts'
import { lineThrough } from './line.ts'
import { takeOff } from './taking-off.ts'

const TURN = 64
const ROWS = 20

/** 1 in the middle, lobes beside it, and a ringing all round. */
const answer = Float64Array.from({ length: TURN }, (_, i) => {
  const d = i - TURN / 2
  return d === 0 ? 1 : Math.exp((-d * d) / 10) * Math.cos(d / 2) + 0.1 * Math.cos(d / 6)
})

interface Painted {
  readonly at: number
  readonly row: number
  readonly rows: number
  readonly size: number
}

const direction = { x: Math.cos(2), y: Math.sin(2) }

function painted(flaws: readonly Painted[]) {
  const x = new Float64Array(ROWS * TURN)
  const y = new Float64Array(ROWS * TURN)
  for (const { at, row, rows, size } of flaws) {
    for (let r = row - rows; r <= row + rows; r++) {
      for (let k = 0; k < TURN; k++) {
        const i = r * TURN + at + k - TURN / 2
        const share = (size * (rows + 1 - Math.abs(r - row))) / (rows + 1)
        if (i < 0 || i >= x.length) continue
        x[i] = x[i]! + share * direction.x * answer[k]!
        y[i] = y[i]! + share * direction.y * answer[k]!
      }
    }
  }
  return { x, y }
}

const weighing = weighingOf({ xx: 0.04, xy: -0.002, yy: 0.0001 }, { from_rad: 1.2, to_rad: 2.2 })

function ridgeOf({ at, row, rows }: Painted): Map<number, number> {
  const reach = Math.floor(rows / 2)
  return new Map(Array.from({ length: 2 * reach + 1 }, (_, k) => [k - reach, (row + k - reach) * TURN + at] as const))
}

const rest = { perTurn: TURN, answer, most: 6 }

describe('takeOff', () => {
  const strong = { at: 30, row: 9, rows: 4, size: 1 }
  const weak = { at: 60, row: 10, rows: 3, size: 0.08 }

  it('leaves nothing of a flaw that answers as the notch does, on its ridge and beyond, joined and single', () => {
    const joined = painted([strong])
    const single = painted([{ ...strong, size: 1.4 }])
    const at = strong.row * TURN + strong.at
    const line = lineThrough(weighing, { x: joined.x[at]!, y: joined.y[at]! })
    takeOff({ ridge: ridgeOf(strong), line }, { ...rest, joined, single })
    for (const column of [joined.x, joined.y, single.x, single.y])
      for (const value of column) expect(Math.abs(value)).toBeLessThan(1e-12)
  })

  it('leaves the other one of two nearly as it is, wherever it lies', () => {
    const joined = painted([strong, weak])
    const alone = painted([weak])
    const at = strong.row * TURN + strong.at
    const line = lineThrough(weighing, { x: joined.x[at]!, y: joined.y[at]! })
    takeOff({ ridge: ridgeOf(strong), line }, { ...rest, joined, single: painted([strong]) })
    const there = weak.row * TURN + weak.at
    // the strong one is measured with the ringing of the weak one in it: a tenth of a twelfth
    expect(Math.abs(joined.y[there]! - alone.y[there]!)).toBeLessThan(0.02 * weak.size)
    for (let i = 0; i < joined.y.length; i++)
      expect(Math.abs(joined.y[i]! - alone.y[i]!)).toBeLessThan(0.15 * weak.size)
  })

  it('takes off what lies on its own line alone: noise across it stays', () => {
    const joined = painted([strong])
    const at = strong.row * TURN + strong.at
    const line = lineThrough(weighing, { x: joined.x[at]!, y: joined.y[at]! })
    const across = { x: -line.weight.y, y: line.weight.x }
    for (let i = 0; i < joined.x.length; i++) {
      joined.x[i] = joined.x[i]! + 0.001 * across.x
      joined.y[i] = joined.y[i]! + 0.001 * across.y
    }
    takeOff({ ridge: ridgeOf(strong), line }, { ...rest, joined, single: painted([strong]) })
    for (let i = 0; i < joined.x.length; i++) {
      expect(joined.x[i]).toBeCloseTo(0.001 * across.x, 10)
      expect(joined.y[i]).toBeCloseTo(0.001 * across.y, 10)
    }
  })
})
