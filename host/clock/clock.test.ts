import { describe, expect, it } from 'vitest'
import { now, today, wallClock } from './index.ts'

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

  it('on the wall is the same moment, with the offset that the platform has', () => {
    for (const at of [new Date('2026-01-14T23:30:00Z'), new Date('2026-07-14T00:30:00.250Z')]) {
      const { time } = wallClock(at)
      expect(Date.parse(time)).toBe(at.getTime())
      expect(time).toMatch(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}[+-]\d\d:\d\d$/)
      const local = [at.getFullYear(), at.getMonth() + 1, at.getDate()].map((one) => String(one).padStart(2, '0'))
      expect(today(at)).toBe(local.join('-'))
    }
  })
})
