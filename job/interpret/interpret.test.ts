/** Oracles: the rule as stated, written out as a table. */
import { describe, expect, it } from 'vitest'
import { thresholdOf } from './threshold.ts'

describe('thresholdOf', () => {
  it.each([
    // reference, hole, alarm → value, noise, too noisy
    [0.02, 0.01, 0.5, 0.1, 0.02, false],
    [0.01, 0.03, 0.5, 0.15, 0.03, false],
    [0.2, 0.05, 0.5, 0.5, 0.2, false],
    [0.02, 0.1, 0.5, 0.5, 0.1, false],
    [0.02, 0.11, 0.5, 0.5, 0.11, true]
  ])('noise %f and %f under an alarm of %f: %f', (reference, hole, alarm, value, noise, tooNoisy) => {
    const found = thresholdOf(reference, hole, alarm)
    expect(found.value).toBeCloseTo(value, 12)
    expect(found).toMatchObject({ noise, tooNoisy })
  })
})
