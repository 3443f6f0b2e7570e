import { describe, expect, it } from 'vitest'
import type { HoleStandard, Notch } from '../standard.ts'
import { checkStandard } from './wall.ts'

const notch = (id: string, depth_mm: number): Notch => ({
  id,
  place: 'mid-bore',
  depth_mm,
  length_mm: 1,
  angle_deg: 10,
  z0_mm: 4,
  z1_mm: 5
})

const standardOf = (...notches: Notch[]): HoleStandard => ({
  id: 'R',
  metal: 'aluminum',
  hole_diameter_mm: 6,
  thickness_mm: 9,
  interfaces_mm: [],
  angle_datum: 'index pulse',
  notches
})

const codesOf = (standard: HoleStandard) => checkStandard(standard).map(({ code, where }) => [code, where?.path])

/** Oracle: the rule itself, on names written out by hand. */
describe('the name of a notch', () => {
  it('may not state the depth of another notch at its place', () => {
    expect(codesOf(standardOf(notch('mid-bore 0.5 mm', 1), notch('mid-bore 1 mm', 0.5)))).toEqual([
      ['plan/notch-name-differs', 'reference_standard.notches[0].id'],
      ['plan/notch-name-differs', 'reference_standard.notches[1].id']
    ])
  })

  it('is free otherwise', () =>
    expect(codesOf(standardOf(notch('N1', 1), notch('0.76 mm long', 0.5), notch('mid-bore 0.25 mm', 0.25)))).toEqual(
      []
    ))
})
