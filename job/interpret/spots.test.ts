/** Oracles: walls that the test painted: what is there, at which angle, in which rows. */
import { describe, expect, it } from 'vitest'
import { weighingOf } from './cone.ts'
import { type Placing, placesOf, spotOf } from './spots.ts'

const spotsOf = (placing: Placing) => placesOf(placing).map(spotOf)

const TURN = 128

/** What a flaw of size 1 shows beside itself: 1 in the middle, −0.55 seven elements away, a little ringing. */
const answer = Float64Array.from({ length: TURN }, (_, i) => {
  const d = i - TURN / 2
  return Math.exp((-d * d) / 18) - 0.55 * (Math.exp(-((d - 7) ** 2) / 18) + Math.exp(-((d + 7) ** 2) / 18))
})
const peak = answer[TURN / 2]!
const normal = answer.map((value) => value / peak)

interface Painted {
  readonly at: number
  readonly row: number
  /** half width along the axis, rows */
  readonly rows: number
  readonly size: number
  readonly deg: number
}

function placing(flaws: readonly Painted[], change: Partial<Placing> = {}): Placing {
  const rows = 24
  const x = new Float64Array(rows * TURN)
  const y = new Float64Array(rows * TURN)
  for (const { at, row, rows: wide, size, deg } of flaws) {
    for (let r = 0; r < rows; r++) {
      const along = size * Math.exp(-Math.LN2 * ((r - row) / wide) ** 2)
      for (let d = -TURN / 2; d < TURN / 2; d++) {
        const i = r * TURN + at + d
        const value = along * normal[d + TURN / 2]!
        x[i] = (x[i] ?? 0) + value * Math.cos((deg * Math.PI) / 180)
        y[i] = (y[i] ?? 0) + value * Math.sin((deg * Math.PI) / 180)
      }
    }
  }
  // noise: 0.1 along lift-off, 0.01 across; the statistic is what lies across it
  const weighing = weighingOf({ xx: 0.01, xy: 0, yy: 0.0001 }, { from_rad: Math.PI / 2, to_rad: Math.PI / 2 })
  const statistic = Float64Array.from(y, (value) => value / 0.01)
  return {
    statistic,
    x,
    y,
    perTurn: TURN,
    level: 5,
    wander: 2,
    shift: 2,
    freedom: 1.5,
    residue: 0.12,
    answer: normal,
    layerOf: () => 0,
    lobes: 18,
    beyond: 4,
    weighing,
    ...change
  }
}

const found = (flaws: readonly Painted[], change: Partial<Placing> = {}) =>
  spotsOf(placing(flaws, change)).map(({ at, sign }) => [Math.floor(at / TURN), at % TURN, sign])

describe('spotsOf', () => {
  it('finds one flaw as one, whatever it shows beside itself', () => {
    expect(found([{ at: 40, row: 10, rows: 3, size: 1, deg: 75 }])).toEqual([[10, 40, 1]])
    expect(found([{ at: 2, row: 5, rows: 1, size: 3, deg: 100 }])).toEqual([[5, 2, 1]])
    expect(found([{ at: 40, row: 10, rows: 3, size: -1, deg: 75 }])).toEqual([[10, 40, -1]])
  })

  it('finds two apart in angle, and two apart along the axis', () => {
    const one = { at: 40, row: 8, rows: 2, size: 1, deg: 75 }
    expect(found([one, { ...one, at: 80, size: 0.5 }])).toEqual([
      [8, 40, 1],
      [8, 80, 1]
    ])
    expect(found([one, { ...one, row: 18, size: 0.5 }])).toEqual([
      [8, 40, 1],
      [18, 40, 1]
    ])
  })

  it('finds a flaw where another shows a side lobe, when it is larger than that or has another angle', () => {
    const one = { at: 40, row: 8, rows: 3, size: 1, deg: 75 }
    expect(found([one, { ...one, at: 47, size: -0.08 }])).toHaveLength(1)
    expect(found([one, { ...one, at: 47, row: 8, size: 1, deg: 140 }]).length).toBeGreaterThan(1)
  })

  it('takes a long one for one, however uneven, and ends it at a joint: one entry a layer', () => {
    const long = [4, 7, 10, 13, 16, 19].map((row, k) => ({
      at: 60 + (k % 2),
      row,
      rows: 2.2,
      size: 1 + 0.1 * (k % 3),
      deg: 80
    }))
    expect(found(long)).toHaveLength(1)
    const [spot] = spotsOf(placing(long))
    expect(Math.floor(spot!.from / TURN)).toBeLessThanOrEqual(3)
    expect(Math.floor(spot!.to / TURN)).toBeGreaterThanOrEqual(20)
    const layers = { layerOf: (element: number) => (element < 12 * TURN ? 0 : 1) }
    const rows = found(long, layers).map(([row]) => row! < 12)
    expect(rows.sort()).toEqual([false, true])
  })

  it('takes two like maxima for one where the mid-bore notch has two so far apart, both kept', () => {
    const twins = [
      { at: 50, row: 7, rows: 1.2, size: 1, deg: 75 },
      { at: 50, row: 13, rows: 1.2, size: 0.8, deg: 75 }
    ]
    expect(found(twins)).toHaveLength(2)
    const spots = spotsOf(placing(twins, { twin: 6 }))
    expect(spots).toHaveLength(1)
    expect(spots[0]!.alike).toEqual([13 * TURN + 50])
    // not at another distance, nor far weaker, nor across a joint
    expect(found(twins, { twin: 3 })).toHaveLength(2)
    expect(found([twins[0]!, { ...twins[1]!, size: 0.4 }], { twin: 6 })).toHaveLength(2)
    expect(found(twins, { twin: 6, layerOf: (element) => (element < 10 * TURN ? 0 : 1) })).toHaveLength(2)
  })

  it('finds nothing below the level', () => {
    expect(found([{ at: 40, row: 10, rows: 3, size: 0.04, deg: 75 }])).toEqual([])
  })
})
