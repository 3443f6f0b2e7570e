/** Oracle: largest answers of closed cracks by a program of its own (reference/oversize.json, `smaller`). */
import { describe, expect, it } from 'vitest'
import { leastAnswerShare } from './index.ts'
import reference from './reference/oversize.json' with { type: 'json' }

describe('leastAnswerShare', () => {
  it.each(reference.smaller)('$metal, $length of the length, $depth of the depth: is no more than computed', (row) => {
    expect(leastAnswerShare(row)).toBeLessThanOrEqual(row.share)
    expect(leastAnswerShare(row)).toBeGreaterThan(0.35 * row.share)
  })
  it('is 1 for what is larger both ways, and counts each way by itself', () => {
    expect(leastAnswerShare({ depth: 1.5, length: 2 })).toBe(1)
    expect(leastAnswerShare({ depth: 0.5, length: 2 })).toBe(0.5)
    expect(leastAnswerShare({ depth: 2, length: 0.5 })).toBe(0.25)
  })
})
