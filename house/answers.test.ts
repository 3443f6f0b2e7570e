import { describe, expect, it } from 'vitest'
import { notchesFound, sameSamplesAndNotches } from '../bench/answers.mjs'

const notches = [
  { place: 'bore', depth_mm: 0.25, angle_deg: 20 },
  { place: 'bore', depth_mm: 1, angle_deg: 190 },
  { place: 'corner', depth_mm: 1.5, angle_deg: 355 }
]
const limits = { least_mm: 0.75, tolerance_deg: 18 }

describe('answers of a benchmark', () => {
  it('are the strong notches near a call, also across the index', () => {
    expect(notchesFound([20, 8, 100], notches, limits)).toEqual(['corner 1.5 mm at 355 deg'])
    expect(notchesFound([200], notches, limits)).toEqual(['bore 1 mm at 190 deg'])
    expect(notchesFound([], notches, limits)).toEqual([])
  })

  it('differ by one sample, by one notch, or when there is none at all', () => {
    const a = { samples: 10, notches: ['x'] }
    expect(sameSamplesAndNotches(a, { ...a }).equal).toBe(true)
    expect(sameSamplesAndNotches(a, { ...a, samples: 11 }).equal).toBe(false)
    expect(sameSamplesAndNotches(a, { ...a, notches: ['x', 'y'] }).equal).toBe(false)
    expect(sameSamplesAndNotches({ ...a, notches: [] }, { ...a, notches: [] }).equal).toBe(false)
  })
})
