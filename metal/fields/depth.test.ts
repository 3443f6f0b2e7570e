/** Oracle: depths of penetration as printed (reference/depth.json), identities, and values by hand. */
import { hertz, meters, siemensPerMeter } from '@trueloop/ground/quantity'
import { isRefusal } from '@trueloop/ground/refusal'
import { describe, expect, it } from 'vitest'
import { characteristicFrequency, phaseLag, standardDepth } from './index.ts'
import reference from './reference/depth.json' with { type: 'json' }

const metal = (sigma: number, permeability = 1) => ({ conductivity: siemensPerMeter(sigma), permeability })
const code = (value: unknown): string => (isRefusal(value) ? value.code : 'answered')

describe('standardDepth', () => {
  it.each(reference.cases)(
    'of $case at $f Hz is as printed',
    ({ sigma, rho, permeability, f, depth_mm, within_mm }) => {
      const depth = Number(standardDepth(hertz(f), metal(sigma ?? 1 / rho!, permeability)))
      expect(Math.abs(depth * 1e3 - depth_mm)).toBeLessThanOrEqual(within_mm)
    }
  )
  it('is 660.849 mm over the root of f mur and %IACS (constant by hand)', () => {
    expect(Number(standardDepth(hertz(1e4), metal(32 * 0.58001e6, 4))) * 1e3).toBeCloseTo(
      660.849 / Math.sqrt(1e4 * 4 * 32),
      4
    )
  })
})

describe('phaseLag and characteristicFrequency', () => {
  it('give one radian a depth', () => {
    const delta = standardDepth(hertz(1e4), metal(1e7, 3))
    expect(phaseLag(meters(2 * Number(delta)), hertz(1e4), metal(1e7, 3))).toBeCloseTo(2, 14)
  })
  it('give 291.153 Hz for a bar of 10 mm and 17.4 MS/m (5066.06 / (17.4 cm^2 MS/m) by hand)', () => {
    expect(characteristicFrequency(meters(0.01), metal(17.4e6))).toBeCloseTo(291.153, 3)
    expect(Number(standardDepth(hertz(291.153), metal(17.4e6))) * Math.SQRT1_2).toBeCloseTo(0.005, 6)
  })
})

describe('refusals', () => {
  it('say what is no metal, frequency, depth or bar', () => {
    expect(code(standardDepth(hertz(0), metal(1e6)))).toBe('fields/bad-frequency')
    expect(code(standardDepth(hertz(1), metal(0)))).toBe('fields/bad-conductivity')
    expect(code(standardDepth(hertz(1), metal(1e6, 0.5)))).toBe('fields/bad-permeability')
    expect(code(phaseLag(meters(-1), hertz(1), metal(1e6)))).toBe('fields/bad-depth')
    expect(code(phaseLag(meters(1), hertz(-1), metal(1e6)))).toBe('fields/bad-frequency')
    expect(code(characteristicFrequency(meters(0), metal(1e6)))).toBe('fields/bad-diameter')
    expect(code(characteristicFrequency(meters(1), metal(-1)))).toBe('fields/bad-conductivity')
  })
})
