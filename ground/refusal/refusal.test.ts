import { describe, expect, it } from 'vitest'
import { refuser } from './index.ts'

/** Oracle: the doc of `refuser`. */

describe('a refusal for which another one is the reason', () => {
  it("has this room's code and the other's words", () => {
    const below = refuser(['lower/no'])('lower/no', { found: 'a', needed: 'b', remedy: 'c', where: { line: 3 } })
    const here = refuser(['upper/no'])('upper/no', below)
    expect(here).toEqual({ ...below, code: 'upper/no' })
    expect(JSON.stringify(here)).toBe(JSON.stringify(below).replace('lower', 'upper'))
  })
})
