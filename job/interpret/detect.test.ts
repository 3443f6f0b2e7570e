/** Oracles: a wall that the test painted: noise of a known deviation, a strong flaw that rings all round, a weak one in it. */
import { describe, expect, it } from 'vitest'
import { type Detecting, detect } from './detect.ts'
import { detection } from './numbers.ts'
import { valuesOf } from './parameters.ts'

const TURN = 128
const ROWS = 40
const STEP = 4
const SIGMA = 0.01

/** 1 in the middle, side lobes of −0.6, and a ringing of a tenth all round, as the band leaves it. */
const answer = Float64Array.from({ length: TURN * STEP }, (_, i) => {
  const d = i / STEP - TURN / 2
  const lobe = (at: number) => Math.exp(-((d - at) ** 2) / 12)
  return lobe(0) - 0.6 * (lobe(8) + lobe(-8)) + (Math.abs(d) > 16 ? 0.1 * Math.cos(d / 9) : 0)
})

function normals(seed: number): () => number {
  let state = seed
  const uniform = () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0
    return (state + 0.5) / 2 ** 32
  }
  return () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform())
}

interface Painted {
  readonly at: number
  readonly row: number
  readonly size: number
}

function wall(flaws: readonly Painted[]): Detecting {
  const length = ROWS * TURN
  const normal = normals(7)
  const noise = () => Float64Array.from({ length }, () => SIGMA * normal())
  const [x, y] = [noise(), noise()]
  for (const { at, row, size } of flaws) {
    for (let r = -4; r <= 4; r++) {
      for (let k = 0; k < TURN; k++) {
        const i = (row + r) * TURN + at + k - TURN / 2
        y[i] = y[i]! + size * Math.exp(-(r * r) / 6) * answer[k * STEP]!
      }
    }
  }
  const covariance = { xx: SIGMA * SIGMA, xy: 0, yy: SIGMA * SIGMA }
  return {
    sheet: { first: 0, step: STEP, perTurn: TURN, length, x, y, cx: x, cy: y } as unknown as Detecting['sheet'],
    joined: { x, y },
    wall: { from: 0, to: length },
    single: covariance,
    reference: covariance,
    notchPhases: [Math.PI / 2],
    namedPhase: Math.PI / 2,
    alarm: 0.5,
    answer,
    spacing: 8 * STEP,
    layerOf: () => 0,
    reach: 3,
    numbers: valuesOf(detection)
  }
}

const placesIn = (flaws: readonly Painted[]) =>
  detect(wall(flaws))
    .spots.map(({ at }) => [Math.floor(at / TURN), at % TURN])
    .sort(([a], [b]) => a! - b!)

describe('detect', () => {
  const strong = { at: 30, row: 12, size: 1.5 }
  // in the ringing of the strong one, against it, and weaker than it: together they show less than the noise asks for
  const weak = { at: 94, row: 12, size: 0.1 }

  it('finds nothing in noise, and its deviation to a tenth', () => {
    const { judgement, spots } = detect(wall([]))
    expect(spots).toEqual([])
    expect(Math.abs(judgement.hole / SIGMA - 1)).toBeLessThan(0.1)
  })

  it('finds a strong flaw alone, whatever it shows around the wall, and the noise is still that of the wall', () => {
    expect(placesIn([strong])).toEqual([[12, 30]])
    expect(Math.abs(detect(wall([strong])).judgement.hole / SIGMA - 1)).toBeLessThan(0.1)
  })

  it('finds a weak one in the ringing of a strong one, where it is', () => {
    const found = placesIn([strong, weak])
    expect(found).toHaveLength(2)
    const hidden = found.find(([, column]) => Math.abs(column! - weak.at) <= 2)
    expect(Math.abs(hidden![0]! - weak.row)).toBeLessThanOrEqual(1)
  })

  it('finds two strong ones and a weak one on the same revolutions', () => {
    expect(placesIn([strong, { at: 75, row: 13, size: 0.8 }, { at: 115, row: 30, size: 0.15 }])).toHaveLength(3)
  })
})
