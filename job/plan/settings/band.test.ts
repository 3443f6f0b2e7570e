/** Oracle: scipy.signal (reference/filters.py). */
import { describe, expect, it } from 'vitest'
import { highPassLoss } from './band.ts'
import reference from './reference/filters.json' with { type: 'json' }

describe('what a causal high-pass takes of a pulse', () => {
  it.each(reference.rows)('is that of SciPy at a corner of $corner', ({ corner, first, second }) => {
    expect(Math.abs(highPassLoss(corner) - Math.max(first, second))).toBeLessThan(reference.tolerance)
  })

  it('is nothing without a corner', () => {
    expect(highPassLoss(0)).toBeCloseTo(0, 4)
  })
})
