import { describe, expect, it } from 'vitest'
import { now } from './index.ts'

describe('clock', () => {
  it('writes ISO 8601 in UTC, between two looks at the system clock, and says where from', () => {
    const before = Date.now()
    const { time, known } = now()
    const after = Date.now()
    expect(time).toMatch(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z$/)
    expect(Date.parse(time)).toBeGreaterThanOrEqual(before)
    expect(Date.parse(time)).toBeLessThanOrEqual(after)
    expect(known).toBe('clock of this computer')
  })
})
