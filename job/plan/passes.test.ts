import { describe, expect, it } from 'vitest'
import { revolutionsOver } from './passes.ts'

/** Oracle: a worked figure of the trade's rules, derived by hand; common practice, no source. */
describe('passes over a flaw', () => {
  it('a 0.76 mm crack under a 1.5 mm footprint at 0.5 mm answers over four to five revolutions', () => {
    const passes = revolutionsOver(0.76e-3, 1.5e-3, 0.5e-3)
    expect(passes).toBeGreaterThan(4)
    expect(passes).toBeLessThan(5)
  })
})
