/** Oracle: what the physics of the model leaves out must be refused or said; the limits are written out beside each. */
import { hertz, meters, siemensPerMeter } from '@trueloop/ground/quantity'
import { isRefusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import { type CoilPlace, type CrackInPart, type CrackPlan, crackAnswer, planCrack, type SurfaceCrack } from './index.ts'

const code = (value: unknown): string => (isRefusal(value) ? value.code : 'answered')

// Aluminum at 900 Hz: depth of penetration 3.03 mm.
const slot: SurfaceCrack = { outline: 'rectangle', length: meters(12e-3), depth: meters(6e-3), opening: meters(0.3e-3) }
const part: CrackInPart = {
  crack: slot,
  metal: { conductivity: siemensPerMeter(30.6e6), permeability: 1 },
  thickness: meters(13e-3),
  frequency: hertz(900),
  cells: { along: 8, deep: 4 }
}
const cracked = (change: Partial<SurfaceCrack>): CrackInPart => ({ ...part, crack: { ...slot, ...change } })
const steel = { conductivity: siemensPerMeter(5e6), permeability: 100 }
const closed = { ...slot, opening: meters(0) }

describe('planCrack refuses', () => {
  it.each<[string, CrackInPart]>([
    ['answered', part],
    ['fields/bad-frequency', { ...part, frequency: hertz(0) }],
    ['fields/bad-conductivity', { ...part, metal: { conductivity: siemensPerMeter(0), permeability: 1 } }],
    ['fields/bad-permeability', { ...part, metal: { conductivity: siemensPerMeter(1e6), permeability: 0.5 } }],
    ['fields/bad-crack', cracked({ length: meters(0) })],
    ['fields/bad-crack', cracked({ depth: meters(-1e-3) })],
    ['fields/bad-crack', cracked({ opening: meters(Number.POSITIVE_INFINITY) })],
    ['fields/bad-thickness', { ...part, thickness: meters(-1) }],
    ['fields/crack-outside-plate', { ...part, thickness: meters(6e-3) }],
    // 3 x 3.03 mm in all, 2 x 3.03 mm of it below the crack
    ['fields/plate-too-thin', { ...part, thickness: meters(12e-3) }],
    ['fields/plate-too-thin', { ...cracked({ depth: meters(2e-3) }), thickness: meters(9e-3) }],
    ['fields/bad-cells', { ...part, cells: { along: 7, deep: 4 } }],
    ['fields/bad-cells', { ...part, cells: { along: 8, deep: 2 } }],
    ['fields/bad-cells', { ...part, cells: { along: 8.5, deep: 4 } }],
    ['fields/bad-cells', { ...part, cells: { along: 100, deep: 50 } }],
    ['fields/bad-cells', { ...part, cells: { along: 30, deep: 4 } }],
    // cells of 1.5 mm; 1.29 mm deep at 5 kHz, 0.04 mm opening so that only the cells are at fault
    ['fields/cells-too-large', { ...cracked({ opening: meters(0.04e-3) }), frequency: hertz(5e3) }],
    ['fields/cells-too-small', { ...cracked({ opening: meters(0.9e-3) }), cells: { along: 40, deep: 20 } }],
    // 0.3 x 3.03 mm
    ['fields/opening-too-wide', cracked({ opening: meters(1e-3) })],
    ['fields/opening-in-magnetic-metal', { ...part, metal: steel, frequency: hertz(2), thickness: 'infinite' }],
    ['answered', { ...part, crack: closed, metal: steel, frequency: hertz(2), thickness: 'infinite' }]
  ])('%s', (expected, given) => expect(code(planCrack(given))).toBe(expected))
})

describe('crackAnswer', () => {
  const winding = { innerRadius: meters(6e-3), outerRadius: meters(12e-3), length: meters(6e-3), turns: 100 }
  const coil = { coil: winding, liftOff: meters(1e-3) }
  const over: CoilPlace = { across: meters(0), along: meters(3e-3) }
  const beside: CoilPlace = { across: meters(2e-3), along: meters(3e-3) }
  const planned = (given: CrackInPart): CrackPlan => {
    const plan = planCrack(given)
    if (isRefusal(plan)) throw new Error(plan.code)
    return plan
  }
  const plan = planned(part)

  it('refuses coils and places that it does not hold for', () => {
    expect(code(crackAnswer(plan, coil, [over]))).toBe('answered')
    expect(code(crackAnswer(plan, coil, []))).toBe('fields/bad-place')
    expect(code(crackAnswer(plan, coil, [{ across: meters(0), along: meters(1) }]))).toBe('fields/bad-place')
    expect(code(crackAnswer(plan, coil, [{ across: meters(0), along: meters(Number.POSITIVE_INFINITY) }]))).toBe(
      'fields/bad-place'
    )
    expect(code(crackAnswer(plan, coil, [over, beside]))).toBe('answered')
    expect(code(crackAnswer(planned({ ...part, crack: closed }), coil, [over, beside]))).toBe('answered')
    expect(code(crackAnswer(plan, { ...coil, liftOff: meters(-1e-3) }, [over]))).toBe('fields/coil-through-surface')
    expect(code(crackAnswer(plan, { ...coil, coil: { ...winding, turns: 0 } }, [over]))).toBe('fields/bad-coil')
  })
  it('refuses a coil so large that the field lags in air', () => {
    // 2 pi f r / c = 0.01 at 477 m for 1 kHz
    const giant = { ...winding, innerRadius: meters(300), outerRadius: meters(600), length: meters(300) }
    const placed = { coil: giant, liftOff: meters(100) }
    expect(code(crackAnswer(plan, placed, [over]))).toBe('fields/frequency-too-high')
  })

  const said = (given: CrackInPart) => {
    const answer = crackAnswer(planned(given), coil, [over])
    if (isRefusal(answer)) throw new Error(answer.code)
    return answer.statement
  }
  it('says with every result what is modeled, what is not, and what it was checked against', () => {
    const always = ['edges of the part and corners of a hole', 'back wall', 'ferrite']
    const open = said(part)
    expect(open.notModeled).toEqual(expect.arrayContaining(always))
    expect(open.notModeled).not.toContain('opening')
    expect(open.modeled).toContain('opening, to first order')
    expect(open.check).toContain('TEAM 15')
    expect(open.check).toContain('of an opening only with the coil over the crack plane')
    expect(open.scale).toContain('not scaled on a measured notch')
    expect(said({ ...part, crack: closed }).notModeled).toEqual(expect.arrayContaining([...always, 'opening']))
  })
  it('says that an ellipse is made of steps, and that its straight end stands at no edge', () => {
    const half = said(cracked({ outline: 'half ellipse' }))
    expect(half.modeled).toContain('outline of the ellipse, but in steps of one cell')
    expect(half.check).toContain('no published check of this outline')
    const quarter = said(cracked({ outline: 'quarter ellipse' }))
    expect(quarter.notModeled).toContain('the edge that a quarter ellipse starts from')
  })
  it('says that no crack in magnetic metal was checked', () => {
    const { check } = said({ ...part, crack: closed, metal: steel, frequency: hertz(2), thickness: 'infinite' })
    expect(check).toContain('no published check')
    expect(check).toContain('permeability above 1')
  })
})
